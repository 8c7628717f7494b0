// Command demoweeks writes the demo weeks: two workbooks and a folder of CSV files of a mill that does not exist.
//
// Every figure is drawn by a generator with a fixed seed and follows published shrinkage, sorption and meter formulas, so
// that the sheets agree with each other the way honest sheets do. The formulas stand here a second time on purpose: a
// demo made with the package it demonstrates would agree with its mistakes.
package main

import (
	"flag"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
)

const usage = `demoweeks writes the demo weeks of an invented mill.

    go run ./cmd/demoweeks [-to DIR]
    go run ./cmd/demoweeks -season DIR [-weeks N]

  -to DIR       folder to write into (default testdata/weeks)
  -season DIR   write a season of weekly workbooks into DIR instead
  -weeks N      how many, 1 to 52 (default 8)

It writes two-loads.xlsx, metric-cherry.xlsx and the folder pine-csv, the same
bytes on every run, over what is there.
Exit: 0 written; 2 wrong call; 3 a file can't be written.
`

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, errOut io.Writer) int {
	flags := flag.NewFlagSet("demoweeks", flag.ContinueOnError)
	flags.SetOutput(errOut)
	flags.Usage = func() { fmt.Fprint(errOut, usage) }
	to := flags.String("to", filepath.Join("testdata", "weeks"), "folder to write into")
	seasonTo := flags.String("season", "", "folder for a season of weekly workbooks")
	n := flags.Int("weeks", 8, "weeks of the season")
	switch err := flags.Parse(args); {
	case err == flag.ErrHelp:
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0:
		fmt.Fprintf(errOut, "demoweeks: unexpected %q\n", flags.Arg(0))
		return 2
	case *n < 1 || *n > 52:
		fmt.Fprintf(errOut, "demoweeks: -weeks %d is not 1 to 52\n", *n)
		return 2
	}
	make := weeks
	if *seasonTo != "" {
		*to = *seasonTo
		make = func() (map[string][]byte, error) { return seasonWeeks(*n) }
	}
	files, err := make()
	if err != nil {
		fmt.Fprintln(errOut, "demoweeks:", err)
		return 3
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		path := filepath.Join(*to, filepath.FromSlash(name))
		if err := write(path, files[name]); err != nil {
			fmt.Fprintln(errOut, "demoweeks:", err)
			return 3
		}
		fmt.Fprintln(out, path)
	}
	return 0
}

func write(path string, content []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	return os.WriteFile(path, content, 0o644)
}

// weeks makes every demo file. The keys are slash-separated paths below testdata/weeks.
func weeks() (map[string][]byte, error) {
	files := pineCSV()
	var err error
	if files["two-loads.xlsx"], err = twoLoads(); err != nil {
		return nil, fmt.Errorf("two-loads.xlsx: %w", err)
	}
	if files["metric-cherry.xlsx"], err = metricCherry(); err != nil {
		return nil, fmt.Errorf("metric-cherry.xlsx: %w", err)
	}
	return files, nil
}
