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
