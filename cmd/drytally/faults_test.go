package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// realProgram builds the program as it is handed out.
func realProgram(t *testing.T) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "drytally")
	if runtime.GOOS == "windows" {
		program += ".exe"
	}
	if text, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("the program can't be built: %v\n%s", err, text)
	}
	return program
}

// papersBelow gives the files below a folder; that of the list of papers too.
func papersBelow(t *testing.T, folder string) map[string]string {
	t.Helper()
	got := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		rel, _ := filepath.Rel(folder, path)
		b, err := os.ReadFile(path)
		got[filepath.ToSlash(rel)] = string(b)
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return got
}

// differences says which files differ, without their content.
func differences(want, got map[string]string) string {
	short := func(m map[string]string) map[string]string {
		s := map[string]string{}
		for name, data := range m {
			s[name] = fmt.Sprintf("%d bytes, mark %x", len(data), crc(data))
		}
		return s
	}
	return cmp.Diff(short(want), short(got))
}

func crc(s string) uint32 {
	var sum uint32
	for i := range len(s) {
		sum = sum*31 + uint32(s[i])
	}
	return sum
}

// hidden lists what of ours lies in a folder.
func hidden(t *testing.T, folder string) []string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".drytally") {
			names = append(names, e.Name())
		}
	}
	return names
}

// kept is a week with papers of two states of its workbook, and files of the owner beside and among them.
type kept struct {
	program, folder, book, papers string
	state                         [2]string            // the workbook's content
	want                          [2]map[string]string // its papers with the owner's files
	took                          time.Duration        // of a run
}

func keptWeek(t *testing.T, program string) *kept {
	t.Helper()
	k := &kept{program: program, folder: filepath.Join(t.TempDir(), "w\u00E9ek s")}
	k.book, k.papers = filepath.Join(k.folder, "week 47.csv"), filepath.Join(k.folder, "week 47-papers")
	row := func(i int, note string) string { return fmt.Sprintf("B%02d,K1,1,6,8,%d.%d,%s\n", i, 7+i%2, i%10, note) }
	k.state[0] = "Board,Load,Thickness,Width,Length,Reading,Note\n"
	for i := range 30 {
		k.state[0] += row(i, "")
	}
	k.state[1] = strings.ReplaceAll(k.state[0], ",K1,", ",K2,") // another load: one paper goes, one comes
	own := map[string]string{"photo.jpg": "mine", "notes/monday.txt": "also mine"}
	for i := range k.state {
		k.save(t, i)
		began := time.Now()
		if text, code := k.run(t, "-to", k.folder+" clean"); code != 0 {
			t.Fatalf("exit %d: %s", code, text)
		}
		k.took = time.Since(began)
		k.want[i] = papersBelow(t, filepath.Join(k.folder+" clean", "week 47-papers"))
		if len(k.want[i]) != 5 { // summary, load, results twice, their list
			t.Fatalf("%d papers", len(k.want[i]))
		}
		for name, data := range own {
			k.want[i][name] = data
		}
	}
	if text, code := k.run(t); code != 0 {
		t.Fatalf("exit %d: %s", code, text)
	}
	for name, data := range own {
		writeFile(t, filepath.Join(k.papers, filepath.FromSlash(name)), data)
	}
	return k
}

func (k *kept) save(t *testing.T, i int) { writeFile(t, k.book, k.state[i]) }

// run runs the program on the workbook.
func (k *kept) run(t *testing.T, options ...string) (text string, code int) {
	t.Helper()
	cmd := exec.Command(k.program, append(options, k.book)...)
	b, err := cmd.CombinedOutput()
	if err != nil && cmd.ProcessState == nil {
		t.Fatal(err)
	}
	return string(b), cmd.ProcessState.ExitCode()
}

// whole gives the state whose papers stand whole, -1 for none.
func (k *kept) whole(t *testing.T) int {
	t.Helper()
	got := papersBelow(t, k.papers)
	for i := range k.want {
		if cmp.Equal(k.want[i], got) {
			return i
		}
	}
	return -1
}

// TestFaults runs the program itself, built as it is handed out, in bad circumstances.
func TestFaults(t *testing.T) {
	program := realProgram(t)
	t.Run("killed", func(t *testing.T) { killedAtAnyPoint(t, program) })
	t.Run("two at once", func(t *testing.T) { twoAtOnce(t, program) })
	t.Run("disk full", func(t *testing.T) { diskFull(t, program) })
	t.Run("file too large for the system", func(t *testing.T) { fileLimit(t, program) })
	t.Run("folder write-protected", func(t *testing.T) { writeProtected(t, program) })
	t.Run("clock", func(t *testing.T) { otherClocks(t, program) })
	t.Run("long names", func(t *testing.T) { longNames(t, program) })
	t.Run("watch interrupted", func(t *testing.T) { watchInterrupted(t, program) })
}

// killedAtAnyPoint kills the program at random moments. Whenever that is: one of the two sets stands whole, or nothing while
// the earlier one waits whole beside it; no file of the owner is lost; and the next run puts everything right.
func killedAtAnyPoint(t *testing.T, program string) {
	kills := 200
	if testing.Short() {
		kills = 30
		t.Log("short: 30 kills instead of 200")
	}
	k := keptWeek(t, program)
	rng := rand.New(rand.NewPCG(47, 1))
	killed, late, leftovers, stands := 0, 0, 0, [3]int{}
	last, placing := k.took, 30*time.Millisecond
	for i := range kills {
		state := i % 2
		if stands := k.whole(t); stands >= 0 {
			state = 1 - stands // so that there is something to write
		}
		k.save(t, state)
		cmd := exec.Command(program, k.book)
		had, began := len(hidden(t, k.folder)), time.Now()
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// Half of the kills anywhere; half after the program has begun to put files in place.
		if i%2 == 1 {
			time.Sleep(time.Duration(rng.Int64N(int64(last))) - time.Since(began))
		} else {
			for len(hidden(t, k.folder)) == had && time.Since(began) < 3*last {
				time.Sleep(200 * time.Microsecond)
			}
			time.Sleep(time.Duration(rng.Int64N(int64(placing))))
		}
		_ = cmd.Process.Kill()
		// How long a run takes depends on what else the machine does: follow it.
		switch err := cmd.Wait(); {
		case err != nil:
			killed++
			if i%2 == 1 {
				last += last / 40
			} else {
				placing += placing / 10
			}
		case i%2 == 1:
			late++
			last -= last / 10
		default:
			late++
			placing -= placing / 5
		}
		stands[k.whole(t)+1]++
		left := hidden(t, k.folder)
		if len(left) > 0 {
			leftovers++
		}
		if k.whole(t) < 0 {
			k.brokenOff(t, i, left)
		}
		if b, err := os.ReadFile(k.book); err != nil || string(b) != k.state[state] {
			t.Fatalf("kill %d: the workbook is not as it was", i)
		}
		if i%4 != 3 && i != kills-1 {
			continue // the next run meets what this one left
		}
		if text, code := k.run(t); code != 0 {
			t.Fatalf("the run after kill %d: exit %d: %s", i, code, text)
		}
		if diff := differences(k.want[state], papersBelow(t, k.papers)); diff != "" {
			t.Fatalf("the run after kill %d (-want +got):\n%s", i, diff)
		}
		if left := hidden(t, k.folder); len(left) > 0 {
			t.Fatalf("the run after kill %d leaves %q", i, left)
		}
	}
	t.Logf("%d killed, %d were done before; %d times something was left to put right, %d times no set stood in its place", killed, late, leftovers, stands[0])
	if killed < kills/3 || leftovers == 0 {
		t.Errorf("only %d of %d were killed, %d in the middle of writing", killed, kills, leftovers)
	}
}

// brokenOff holds what stands when no whole set is in its place against what may: no file of the owner lost, and no half set
// of papers. Either the folder is away and stands aside whole, or the new set stands and files are still carried over.
func (k *kept) brokenOff(t *testing.T, kill int, left []string) {
	t.Helper()
	now, aside := papersBelow(t, k.papers), map[string]string{}
	for _, name := range left {
		if strings.HasPrefix(name, ".drytally-aside-") {
			aside = papersBelow(t, filepath.Join(k.folder, name))
		}
	}
	owns := func(name string) bool { return name == "photo.jpg" || name == "notes/monday.txt" }
	for _, name := range []string{"photo.jpg", "notes/monday.txt"} {
		a, b := now[name], aside[name]
		if a == "" && b == "" {
			t.Fatalf("kill %d: %s of the owner is lost; %v", kill, name, left)
		}
	}
	if len(now) == 0 {
		for _, want := range k.want {
			if cmp.Equal(want, aside) {
				return
			}
		}
		t.Fatalf("kill %d: the earlier set is lost; aside stands %s", kill, differences(k.want[0], aside))
	}
	for _, want := range k.want {
		whole := true
		for name, data := range want {
			whole = whole && (owns(name) || now[name] == data)
		}
		for name := range now {
			whole = whole && (owns(name) || want[name] != "")
		}
		if whole {
			return
		}
	}
	t.Fatalf("kill %d: half a set stands: %s", kill, differences(k.want[0], now))
}

// twoAtOnce starts several runs on one workbook at the same moment, again and again.
func twoAtOnce(t *testing.T, program string) {
	k := keptWeek(t, program)
	for i := range 5 {
		k.save(t, (i+1)%2)
		var wg sync.WaitGroup
		for range 4 {
			wg.Go(func() {
				if text, code := k.run(t); code != 0 {
					t.Errorf("exit %d: %s", code, text)
				}
			})
		}
		wg.Wait()
		if diff := differences(k.want[(i+1)%2], papersBelow(t, k.papers)); diff != "" {
			t.Errorf("round %d (-want +got):\n%s", i, diff)
		}
		if left := hidden(t, k.folder); len(left) > 0 {
			t.Errorf("round %d leaves %q", i, left)
		}
	}
	// The workbook is saved while its papers are made: those of the last save stand in the end.
	var wg sync.WaitGroup
	for i := range 12 {
		temp := k.book + ".part"
		writeFile(t, temp, k.state[i%2])
		if err := os.Rename(temp, k.book); err != nil {
			t.Fatal(err)
		}
		wg.Go(func() {
			if text, code := k.run(t); code != 0 && !strings.Contains(text, "keeps being changed") {
				t.Errorf("exit %d: %s", code, text)
			}
		})
		time.Sleep(k.took / 3)
	}
	wg.Wait()
	if diff := differences(k.want[1], papersBelow(t, k.papers)); diff != "" {
		t.Errorf("papers of another state than the last saved (-want +got):\n%s", diff)
	}
}

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

// TestChangedWhileRead: a workbook that never holds still is given up in plain words, and nothing is written.
func TestChangedWhileRead(t *testing.T) {
	folder := t.TempDir()
	book := filepath.Join(folder, "week.csv")
	// Papers of so many boards take long enough for the other one to get its turn, however busy the machine is.
	var boards []string
	for i := range 3000 {
		boards = append(boards, fmt.Sprint("B", i))
	}
	week := csvWeek(boards...)
	ended := make(chan struct{})
	var wg sync.WaitGroup
	wg.Go(func() {
		for i := 0; ; i++ {
			select {
			case <-ended:
				return
			default:
			}
			temp := book + ".part"
			if os.WriteFile(temp, fmt.Appendf(nil, "%sC%d,1,6,8\n", week, i), 0o644) != nil || os.Rename(temp, book) != nil {
				t.Error("the workbook can't be saved")
			}
		}
	})
	for end := time.Now().Add(deadline); time.Now().Before(end); time.Sleep(time.Millisecond) {
		if _, err := os.Stat(book); err == nil {
			break
		}
	}
	var out, errOut bytes.Buffer
	code := run([]string{book}, &out, &errOut)
	close(ended)
	wg.Wait()
	if code != exitFile || out.Len() > 0 || !strings.Contains(errOut.String(), "it keeps being changed while it is read; run again when it is saved") {
		t.Errorf("exit %d: %s%s", code, &out, &errOut)
	}
	if _, err := os.Stat(filepath.Join(folder, "week-papers")); err == nil || len(hidden(t, folder)) > 0 {
		t.Errorf("papers were written, or %q is left", hidden(t, folder))
	}
}
