//go:build unix

package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
	"time"

	"drytally/testdata/tool"
)

// cost is what a run of a program took.
type cost struct {
	cpu  time.Duration // user and system, of the program and those it ran
	peak int64         // most memory it held at once, bytes
}

// costOf runs a program and gives its cost. Exit code 1 means rows set aside, which is a run too. On Linux a program is begun with
// the peak of the one that starts it, so it is started by a small one.
func costOf(t testing.TB, program string, args ...string) cost {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	told := filepath.Join(t.TempDir(), "cost")
	c := exec.Command(self, append([]string{told, program}, args...)...)
	c.Args[0] = starter
	out, err := c.CombinedOutput()
	if err != nil && c.ProcessState.ExitCode() != exitSetAside {
		t.Fatalf("%s %q: %v\n%s", program, args, err, out)
	}
	words, err := os.ReadFile(told)
	if err != nil {
		t.Fatal(err)
	}
	var of cost
	if _, err := fmt.Sscan(string(words), &of.cpu, &of.peak); err != nil {
		t.Fatalf("%q: %v", words, err)
	}
	return of
}

// starter is the name under which the test's program runs another and writes its cost into a file.
const starter = "cost-of"

func init() {
	programs[starter] = func() {
		told := os.Args[1]
		c := exec.Command(os.Args[2], os.Args[3:]...)
		c.Stdout, c.Stderr = os.Stdout, os.Stderr
		if err := c.Run(); c.ProcessState == nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(exitFile)
		}
		u := c.ProcessState.SysUsage().(*syscall.Rusage)
		unit := int64(1024) // Linux counts in kilobytes
		if runtime.GOOS == "darwin" {
			unit = 1
		}
		words := fmt.Sprintln(int64(c.ProcessState.UserTime()+c.ProcessState.SystemTime()), int64(u.Maxrss)*unit)
		if err := os.WriteFile(told, []byte(words), 0o644); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(exitFile)
		}
		os.Exit(c.ProcessState.ExitCode())
	}
}

// least gives the least CPU time and the largest peak of several runs: other programs on the machine only ever add to the time.
func least(times int, run func() cost) cost {
	best := run()
	for range times - 1 {
		best = cheaper(best, run())
	}
	return best
}

func cheaper(a, b cost) cost { return cost{min(a.cpu, b.cpu), max(a.peak, b.peak)} }

// built builds the program as it is shipped.
func built(t testing.TB) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "drytally")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("go build: %v\n%s", err, out)
	}
	return program
}

const demoWeek = "../../testdata/weeks/two-loads.xlsx"

// mostOfConverting is how much of the time that an office program takes to turn the workbook into a PDF all papers may take.
const mostOfConverting = 0.15

// TestTimeAgainstConverting holds the CPU time of the demo week with all its papers against that of an office program
// converting the same workbook to PDF.
func TestTimeAgainstConverting(t *testing.T) {
	if testing.Short() || raceDetector {
		t.Skip("not checked with -short or the race detector: how long a week's papers take (with it times say nothing)")
	}
	const office = "soffice"
	tool.Need(t, "how long a week's papers take", office)
	program, to := built(t), t.TempDir()
	profile := "-env:UserInstallation=file://" + filepath.Join(to, "profile")
	convert := func() cost {
		return costOf(t, office, profile, "--headless", "--convert-to", "pdf", "--outdir", to, demoWeek)
	}
	convert() // makes its profile
	if _, err := os.Stat(filepath.Join(to, "two-loads.pdf")); err != nil {
		t.Fatalf("the office program converts nothing: %v", err)
	}
	// In turns, so that what else the machine does falls on both.
	ours, theirs := cost{cpu: 1 << 62}, cost{cpu: 1 << 62}
	for range 3 {
		theirs.cpu = min(theirs.cpu, convert().cpu)
		ours.cpu = min(ours.cpu, least(2, func() cost { return costOf(t, program, "-to", to, "-force", demoWeek) }).cpu)
	}
	ratio := float64(ours.cpu) / float64(theirs.cpu)
	t.Logf("all papers %v, converting %v, ratio %.3f", ours.cpu, theirs.cpu, ratio)
	if ratio > mostOfConverting {
		t.Errorf("all papers take %.3f of converting the workbook, want at most %.2f", ratio, mostOfConverting)
	}
}

// report gives the figures of a run as those of a benchmark.
func (c cost) report(b *testing.B, books int) {
	b.ReportMetric(float64(c.cpu.Milliseconds())/float64(books), "cpu-ms/workbook")
	b.ReportMetric(float64(c.peak>>20), "peak-MB")
}

// BenchmarkFolderOfWeeks runs the program over a year of 52 workbooks, each with its papers, within 100 MB: over weeks of the
// invented season, as a mill has them, within 60 ms of CPU time each; and over the demo week, which has every kind of sheet and
// two finished loads.
func BenchmarkFolderOfWeeks(b *testing.B) {
	season := b.TempDir()
	if out, err := exec.Command("go", "run", "../demoweeks", "-season", season).CombinedOutput(); err != nil {
		b.Fatalf("go run ../demoweeks: %v\n%s", err, out)
	}
	weeks, err := filepath.Glob(filepath.Join(season, "*.xlsx"))
	if err != nil || len(weeks) == 0 {
		b.Fatalf("no weeks of a season: %v", err)
	}
	const inYear, mostMB = 52, 100
	program := built(b)
	for _, year := range []struct {
		name  string
		books []string
		most  time.Duration // CPU time of a week; 0: reported only
	}{{"season", weeks, 60 * time.Millisecond}, {"demo", []string{demoWeek}, 0}} {
		b.Run(year.name, func(b *testing.B) {
			to, from := b.TempDir(), b.TempDir()
			for i := range inYear {
				data, err := os.ReadFile(year.books[i%len(year.books)])
				if err != nil {
					b.Fatal(err)
				}
				if err := os.WriteFile(filepath.Join(from, fmt.Sprintf("week%02d.xlsx", i+1)), data, 0o644); err != nil {
					b.Fatal(err)
				}
			}
			c := cost{cpu: 1 << 62}
			for b.Loop() {
				c = cheaper(c, costOf(b, program, "-to", to, "-force", "-again", from))
			}
			c.report(b, inYear)
			if c.peak > mostMB<<20 {
				b.Errorf("held %d MB, want at most %d", c.peak>>20, mostMB)
			}
			if year.most != 0 && c.cpu > inYear*year.most {
				b.Errorf("took %v a week, want at most %v", c.cpu/inYear, year.most)
			}
		})
	}
}

// mostOfSeason is how many MB ten years of a mill in one workbook may take: 50,000 boards, each read ten times.
const mostOfSeason = 250

// TestMemoryOfSeason holds the most memory the program takes for such a workbook against what it may take.
func TestMemoryOfSeason(t *testing.T) {
	if testing.Short() || raceDetector {
		t.Skip("not checked with -short or the race detector, whose memory says nothing: the memory of ten years in one workbook")
	}
	path := filepath.Join(t.TempDir(), "season.xlsx")
	if err := os.WriteFile(path, largeBook(t, 50000, 10), 0o644); err != nil {
		t.Fatal(err)
	}
	c := costOf(t, built(t), "check", path)
	t.Logf("%d MB, %v", c.peak>>20, c.cpu)
	if c.peak > mostOfSeason<<20 {
		t.Errorf("held %d MB, want at most %d", c.peak>>20, mostOfSeason)
	}
}

// BenchmarkSeason checks and writes workbooks of many boards and readings.
func BenchmarkSeason(b *testing.B) {
	program := built(b)
	for _, s := range []struct {
		boards, readings int // readings of each board
		check            bool
		mostMB           int64 // 0: none set
	}{{5000, 1, false, 0}, {5000, 10, false, 0}, {50000, 10, true, mostOfSeason}} {
		name := fmt.Sprintf("boards=%d,readings=%d,papers=%t", s.boards, s.boards*s.readings, !s.check)
		b.Run(name, func(b *testing.B) {
			to := b.TempDir()
			path := filepath.Join(to, "season.xlsx")
			if err := os.WriteFile(path, largeBook(b, s.boards, s.readings), 0o644); err != nil {
				b.Fatal(err)
			}
			args := []string{"-to", to, "-force", path}
			if s.check {
				args = []string{"check", path}
			}
			var c cost
			for b.Loop() {
				c = costOf(b, program, args...)
			}
			c.report(b, 1)
			if s.mostMB > 0 && c.peak > s.mostMB<<20 {
				b.Errorf("held %d MB, want at most %d", c.peak>>20, s.mostMB)
			}
		})
	}
}
