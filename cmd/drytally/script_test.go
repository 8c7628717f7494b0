package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// programs are what the test's own program is under other names.
var programs = map[string]func(){"drytally": main}

func TestMain(m *testing.M) {
	testscript.Main(m, programs)
}

// TestScripts runs the program as a person would, one behavior a file.
func TestScripts(t *testing.T) {
	weeks, err := filepath.Abs("../../testdata/weeks")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script",
		Setup: func(e *testscript.Env) error {
			e.Setenv("WEEKS", weeks)
			return nil
		},
		Condition: func(cond string) (bool, error) {
			return cond == "root" && os.Getuid() == 0, nil
		},
	})
}
