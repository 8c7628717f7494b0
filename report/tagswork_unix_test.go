//go:build unix

package report

import (
	"os"
	"os/exec"
	"runtime"
	"syscall"
	"testing"
	"time"
)

// TestWorkOfTenThousandTags makes the tags of 10,000 boards in a process of its own and holds it against what a run may take:
// 0.5 ms of processor time a tag and 200 MiB of memory.
func TestWorkOfTenThousandTags(t *testing.T) {
	const (
		tags       = 10_000
		mostCPU    = tags * 500 * time.Microsecond
		mostMemory = 200 << 20
		child      = "DRYTALLY_TEST_TAGS"
	)
	if os.Getenv(child) != "" {
		r := largeSale(tags)
		j, made := exampleJob(r), 0
		var kept [][]byte // as a run keeps them until all papers are made
		for _, part := range tagParts(&r.Sales[0]) {
			data, err := j.tags(part)
			if err != nil {
				t.Fatal(err)
			}
			kept = append(kept, data)
			made += len(part.Boards)
		}
		if made != tags || j.failed != nil {
			t.Fatalf("made %d tags (%v)", made, j.failed)
		}
		runtime.KeepAlive(kept)
		return
	}
	if testing.Short() || raceDetector {
		t.Skip("not checked with -short or the race detector: what 10,000 tags take (with it times say nothing)")
	}
	// On a machine that others use too the least of three runs counts.
	least := time.Hour
	for range 3 {
		run := exec.Command(os.Args[0], "-test.run=^TestWorkOfTenThousandTags$")
		run.Env = append(os.Environ(), child+"=1")
		if said, err := run.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		used, ok := run.ProcessState.SysUsage().(*syscall.Rusage)
		if !ok {
			t.Fatal("this system does not say what a process took")
		}
		memory := int64(used.Maxrss)
		if runtime.GOOS != "darwin" {
			memory <<= 10 // told in KiB
		}
		cpu := run.ProcessState.UserTime() + run.ProcessState.SystemTime()
		t.Logf("%d tags: %v of processor time, %d MiB", tags, cpu.Round(10*time.Millisecond), memory>>20)
		if memory > mostMemory {
			t.Errorf("%d tags took %d MiB, want at most %d", tags, memory>>20, mostMemory>>20)
		}
		if least = min(least, cpu); least <= mostCPU {
			break
		}
	}
	if least > mostCPU {
		t.Errorf("%d tags took %v of processor time, want at most %v", tags, least, mostCPU)
	}
}
