package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// sh runs a line of shell with the program's path in $PROGRAM.
func sh(program, dir, line string, args ...string) (text string, code int, err error) {
	cmd := exec.Command("sh", append([]string{"-c", line, "sh"}, args...)...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "PROGRAM="+program)
	b, err := cmd.CombinedOutput()
	if cmd.ProcessState == nil {
		return string(b), -1, err
	}
	return string(b), cmd.ProcessState.ExitCode(), nil
}

// diskFull lets the program write onto a real disk that is full after so many kilobytes.
func diskFull(t *testing.T, program string) {
	if runtime.GOOS != "linux" {
		t.Skip("not checked: a disk that is full (only Linux makes a small one here); TestEveryStepCanFail of report/write stands in")
	}
	if text, code, err := sh(program, t.TempDir(), "unshare -rm sh -c 'mount -t tmpfs none /mnt'"); err != nil || code != 0 {
		t.Skipf("not checked: a disk that is full (no small one can be made: %s); TestEveryStepCanFail of report/write stands in", strings.TrimSpace(text))
	}
	book := filepath.Join(t.TempDir(), "week.csv")
	writeFile(t, book, csvWeek("B1", "B2", "B3"))
	failed := 0
	for _, size := range []string{"8k", "16k", "40k", "60k", "80k", "100k", "120k", "160k", "220k", "2m"} {
		const line = `exec unshare -rm sh -c 'mount -t tmpfs -o size=$1 none /mnt && cp "$2" /mnt/week.csv && "$PROGRAM" /mnt/week.csv; echo "exit $?"; ls -A /mnt' sh "$@"`
		text, _, err := sh(program, t.TempDir(), line, size, book)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case strings.Contains(text, "exit 0\nweek-papers\nweek.csv\n"):
		case strings.Contains(text, "no space left on device\nexit 3\nweek.csv\n") && strings.Count(text, "drytally: ") == 1 && !strings.Contains(text, ".drytally"):
			failed++
		default:
			t.Errorf("a disk of %s: got %s", size, text)
		}
	}
	if failed < 3 || failed == 10 {
		t.Errorf("%d of 10 disks were too small", failed)
	}
}

// fileLimit lets the system refuse files beyond a size.
func fileLimit(t *testing.T, program string) {
	if runtime.GOOS == "windows" {
		t.Skip("not checked: a file too large for the system (Windows sets no such limit); TestEveryStepCanFail of report/write stands in")
	}
	k := keptWeek(t, program)
	before := k.whole(t)
	k.save(t, 1-before)
	text, code, err := sh(program, k.folder, `ulimit -f 4; exec "$PROGRAM" "$1"`, k.book)
	if err != nil {
		t.Fatal(err)
	}
	if code != exitFile || !strings.Contains(text, "file too large") || k.whole(t) != before || len(hidden(t, k.folder)) > 0 {
		t.Errorf("exit %d, state %d, left %q: %s", code, k.whole(t), hidden(t, k.folder), text)
	}
	if text, code := k.run(t); code != 0 || k.whole(t) != 1-before {
		t.Errorf("without the limit: exit %d: %s", code, text)
	}
}

// writeProtected lets the program write where it may not.
func writeProtected(t *testing.T, program string) {
	if runtime.GOOS != "linux" {
		t.Skip("not checked: a write-protected folder (only Linux protects one here); TestEveryStepCanFail of report/write stands in")
	}
	k := keptWeek(t, program)
	const line = `exec unshare -rm sh -c 'mount --bind "$2" "$2" && mount -o remount,ro,bind "$2" && "$PROGRAM" $3 "$1"; echo "exit $?"' sh "$@"`
	text, code, err := sh(program, t.TempDir(), line, k.book, k.folder)
	if err != nil || code != 0 || strings.Contains(text, "unshare:") || strings.Contains(text, "mount:") {
		t.Skipf("not checked: a write-protected folder (none can be made: %s); TestEveryStepCanFail of report/write stands in", strings.TrimSpace(text))
	}
	state := k.whole(t)
	if strings.Contains(text, "exit 3") == (state == 1) {
		t.Errorf("the papers that stand: %s", text)
	}
	k.save(t, 1-state)
	text, _, _ = sh(program, t.TempDir(), line, k.book, k.folder)
	if !strings.Contains(text, "read-only file system\nexit 3\n") || strings.Contains(text, ".drytally") || k.whole(t) != state {
		t.Errorf("state %d: %s", k.whole(t), text)
	}
}

// otherClocks: no clock, no place's time and no time of a file changes a byte of a paper.
func otherClocks(t *testing.T, program string) {
	folder := t.TempDir()
	book := filepath.Join(folder, "two-loads.xlsx")
	data, err := os.ReadFile("../../testdata/weeks/two-loads.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	writeFile(t, book, string(data))
	var want map[string]string
	for i, c := range []struct {
		zone string
		at   time.Time
	}{{"UTC", time.Now()}, {"Pacific/Kiritimati", time.Unix(1, 0)}, {"America/St_Johns", time.Now().AddDate(70, 0, 0)}, {"Asia/Kathmandu", time.Date(2026, 3, 29, 1, 30, 0, 0, time.UTC)}} {
		if err := os.Chtimes(book, c.at, c.at); err != nil {
			t.Fatal(err)
		}
		to := filepath.Join(folder, fmt.Sprint("out", i))
		cmd := exec.Command(program, "-to", to, book)
		cmd.Env = append(os.Environ(), "TZ="+c.zone, "LANG=de_DE.UTF-8", "LC_ALL=C")
		if text, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, text)
		}
		got := papersBelow(t, to)
		if want == nil {
			want = got
		}
		if diff := differences(want, got); diff != "" || len(got) < 9 {
			t.Errorf("%s, file of %v (-want +got):\n%s", c.zone, c.at, diff)
		}
	}
	// Papers of the future, or of long ago, are neither newer nor older: only what stands in the files counts.
	for _, at := range []time.Time{time.Unix(1, 0), time.Now().AddDate(70, 0, 0)} {
		for _, name := range []string{"summary.pdf", ".drytally-papers.json"} {
			if err := os.Chtimes(filepath.Join(folder, "out0", "two-loads-papers", name), at, at); err != nil {
				t.Fatal(err)
			}
		}
		text, err := exec.Command(program, "-to", filepath.Join(folder, "out0"), folder).CombinedOutput()
		if err != nil || !strings.Contains(string(text), "unchanged") {
			t.Errorf("papers of %v: %v: %s", at, err, text)
		}
	}
}

// longNames: a workbook's name may be as long as the file system lets it be, with any letters.
func longNames(t *testing.T, program string) {
	folder := t.TempDir()
	for _, name := range []string{strings.Repeat("a", 250) + ".csv", strings.Repeat("\u00E4", 120) + " 1.csv", "\u6728\u6750 \U0001F332 'week' & \"co\" $HOME.csv", " lead.csv", "-to.csv", "%s%d.csv", "new\nline.csv"} {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(csvWeek("B1", "B2")), 0o644); err != nil {
			t.Logf("this file system has no %q: %v", name, err)
			continue
		}
		for range 2 {
			text, err := exec.Command(program, path).CombinedOutput()
			if err != nil || strings.Contains(string(text), "new\nline") {
				t.Errorf("%q: %v: %s", name, err, text)
			}
		}
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
	entries, err := os.ReadDir(folder)
	if err != nil || len(entries) < 3 {
		t.Errorf("%d folders of papers, %v", len(entries), err)
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), "-papers") {
			t.Errorf("%q is left", e.Name())
		}
	}
}

// watchInterrupted: an interrupt ends the watching with 0.
func watchInterrupted(t *testing.T, program string) {
	if runtime.GOOS == "windows" {
		t.Skip("not checked: an interrupt of the real program (Windows sends none); TestWatchFinishesWhatItHasInHand stands in")
	}
	folder := t.TempDir()
	writeFile(t, filepath.Join(folder, "week.csv"), csvWeek("B1"))
	cmd := exec.Command(program, "watch", folder)
	var out, errOut screen
	cmd.Stdout, cmd.Stderr = &out, &errOut
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() { _ = cmd.Process.Kill() }()
	for end := time.Now().Add(deadline); !strings.Contains(out.String(), "Written into") && time.Now().Before(end); {
		time.Sleep(20 * time.Millisecond)
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	select {
	case err := <-ended:
		if err != nil || !strings.Contains(errOut.String(), "stopped watching") || !strings.Contains(out.String(), "Written into") {
			t.Errorf("%v: %s%s", err, &out, &errOut)
		}
	case <-time.After(deadline):
		t.Error("it doesn't stop")
	}
}
