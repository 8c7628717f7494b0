// Package tool runs for tests the programs that look at papers from outside: readers and checkers of PDF, readers of pictures, an
// office program. .ci/run installs them and sets CI; elsewhere they may be missing.
package tool

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// automatic tells whether a machine checks a change. It is the one place that asks.
func automatic() bool { return os.Getenv("CI") != "" }

// without are the programs that the automatic run could not install and has said so; it is set by .ci/run.
func without() []string { return strings.Fields(os.Getenv("CI_WITHOUT")) }

// Need skips a test where one of its programs is missing and says what is then not checked. An automatic run fails then, but for the
// programs it could not install.
func Need(t testing.TB, unchecked string, programs ...string) {
	t.Helper()
	var missing []string
	for _, p := range programs {
		if _, err := exec.LookPath(p); err != nil {
			missing = append(missing, p)
		}
	}
	switch {
	case len(missing) == 0:
	case automatic() && slices.ContainsFunc(missing, func(p string) bool { return !slices.Contains(without(), p) }):
		t.Fatalf("not checked: %s (CI is set and %s not installed)", unchecked, strings.Join(missing, ", "))
	default:
		t.Skipf("not checked: %s (%s not installed)", unchecked, strings.Join(missing, ", "))
	}
}

// NoUpdate fails a test that is to write anew what it expects in an automatic run, which must not bless its own output.
func NoUpdate(t testing.TB, update bool) {
	t.Helper()
	if update && automatic() {
		t.Fatal("what is expected is not written anew where CI is set")
	}
}

// Convert has the office program turn a file into another format, in the folder to and with a profile of the test's own. It gives up
// after two minutes.
func Convert(t testing.TB, format, to, file string) {
	t.Helper()
	profile := "-env:UserInstallation=file://" + filepath.ToSlash(filepath.Join(to, "profile"))
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	run := exec.CommandContext(ctx, "soffice", profile, "--headless", "--convert-to", format, "--outdir", to, file)
	run.WaitDelay = 10 * time.Second // what the program started may outlive it
	if said, err := run.CombinedOutput(); err != nil {
		t.Fatalf("the office program makes no %s of %s: %v: %s", format, filepath.Base(file), err, said)
	}
}
