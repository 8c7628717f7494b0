package main

import (
	"runtime/debug"
	"testing"
)

// TestVersion: a release by its name, else the revision, and never a revision alone for a source that was changed since.
func TestVersion(t *testing.T) {
	const revision, pseudo = "a5b5b86f00d1e2c3b4a5968778695a4b3c2d1e0f", "v0.0.0-20261125115800-a5b5b86f00d1"
	for _, c := range []struct{ name, module, revision, modified, want string }{
		{"release", "v1.2.0", revision, "false", "v1.2.0"},
		{"release, changed", "v1.2.0+dirty", revision, "true", "v1.2.0+changed"},
		{"revision", pseudo, revision, "false", "a5b5b86f00d1"},
		{"revision, changed", pseudo + "+dirty", revision, "true", "a5b5b86f00d1+changed"},
		{"older toolchain", "(devel)", revision, "false", "a5b5b86f00d1"},
		{"fetched as a module", "v1.2.0", "", "", "v1.2.0"},
		{"run from its source", "(devel)", "", "", "development build"},
		{"nothing known", "", "", "", "development build"},
	} {
		info := &debug.BuildInfo{Main: debug.Module{Version: c.module}, Settings: []debug.BuildSetting{
			{Key: "vcs.revision", Value: c.revision}, {Key: "vcs.modified", Value: c.modified}}}
		if got := versionOf(info); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}
