package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"drytally/compute/units"
	"drytally/ingest"
	"drytally/ingest/blank"
	"drytally/report/write"
)

// runBlank makes the workbook to fill in.
func runBlank(c call, out, errOut io.Writer) int {
	fail := func(code int, format string, args ...any) int {
		tell(errOut, fmt.Errorf(format, args...))
		return code
	}
	path := c.paths[0]
	switch {
	case len(c.paths) > 1:
		return fail(exitCall, "drytally blank makes one workbook; it was given %d names", len(c.paths))
	case !strings.EqualFold(filepath.Ext(path), ".xlsx"):
		return fail(exitCall, "the new workbook's name must end in .xlsx, as in %q", strings.TrimSuffix(path, filepath.Ext(path))+".xlsx")
	case strings.HasPrefix(filepath.Base(path), "~$") || strings.HasPrefix(filepath.Base(path), "."):
		return fail(exitCall, "%q would not be found again: give it a name that begins with a letter or a digit", path)
	}
	var data []byte
	var carried blank.Carried
	var err error
	if c.from == "" {
		system := units.InchFoot
		if c.metric {
			system = units.Metric
		}
		data, err = blank.Make(system)
	} else {
		if c.metric {
			return fail(exitCall, "-metric goes with an empty workbook; with -from the units are those of %q", c.from)
		}
		sets, gatherErr := ingest.Gather([]string{c.from})
		switch {
		case gatherErr != nil:
			return fail(exitFile, "%v", gatherErr)
		case len(sets) != 1:
			return fail(exitCall, "%q holds several workbooks; name the one to carry over from", c.from)
		}
		for _, last := range sets[0].Paths {
			if sameFile(path, last) {
				return fail(exitCall, "%q is the workbook to carry over from; give the new one another name", path)
			}
		}
		data, carried, err = blank.From(sets[0])
	}
	if err != nil {
		return fail(exitFile, "%v", err)
	}
	if err := write.One(path, data, c.force); err != nil {
		return fail(exitFile, "%v", err)
	}
	fmt.Fprintf(out, "%s is written. Its first sheet says how it is filled in.\n", path)
	if c.from == "" {
		return exitWritten
	}
	fmt.Fprint(out, tellCarried(carried))
	if carried.Cuts > 0 {
		fmt.Fprintf(errOut, "drytally: %s\n", cutsLeft(carried))
	}
	if carried.SetAside > 0 || len(carried.Failed) > 0 {
		return exitSetAside
	}
	return exitWritten
}

func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

// tellCarried says in plain words what was carried over, and what was left behind.
func tellCarried(c blank.Carried) string {
	var taken, left []string
	add := func(n int, one, many, more string) {
		if n > 0 {
			taken = append(taken, counted(n, one, many)+more)
		}
	}
	add(c.Settings, "setting", "settings", " of yours")
	for _, l := range c.Loads {
		why := l.Before.String()
		switch {
		case !l.Out:
			why += ", no date out"
		case l.Boards > l.Sold:
			why += fmt.Sprintf(", %d of its boards not sold", l.Boards-l.Sold)
		}
		line := fmt.Sprintf("load %s (%s): %s, %s", l.ID, why, counted(l.Boards, "board", "boards"), counted(l.Readings, "reading", "readings"))
		if l.Weights > 0 {
			line += ", " + counted(l.Weights, "weighing", "weighings")
		}
		if l.Verdict != l.Before {
			line += fmt.Sprintf("\n    with these rows alone its verdict is: %s", l.Verdict)
		}
		taken = append(taken, line)
	}
	add(c.Loose, "board", "boards", " of no load in the loads sheet")
	add(c.Wanted, "wanted piece", "wanted pieces", "; delete those that are made")
	add(c.Air, "line", "lines", " of the air log")
	add(c.Climate, "month", "months", " of climate")
	if len(c.Sales) > 0 {
		taken = append(taken, plural(len(c.Sales), "sale ", "sales ")+strings.Join(c.Sales, ", ")+
			", so that no board is sold twice; "+plural(len(c.Sales), "its papers come", "their papers come")+" out again")
	}
	if len(c.Gone) > 0 {
		left = append(left, plural(len(c.Gone), "load ", "loads ")+strings.Join(c.Gone, ", ")+": dry, out of the kiln and sold out")
	}
	if c.SalesGone > 0 {
		left = append(left, counted(c.SalesGone, "row", "rows")+" of sales that hold nothing of what was carried over")
	}
	if c.Cuts > 0 {
		left = append(left, counted(c.Cuts, "row", "rows")+" of cuts that name no load; copy what still lies green")
	}
	if n := len(c.Unread); n > 0 {
		left = append(left, "the "+plural(n, "column ", "columns ")+strings.Join(c.Unread, ", ")+", which drytally does not read")
	}
	if c.SetAside > 0 {
		left = append(left, counted(c.SetAside, "row", "rows")+" that could not be used; drytally check "+c.Last+" says why")
	}
	left = append(left, c.Failed...)
	var b strings.Builder
	list := func(heading string, lines []string) {
		fmt.Fprintf(&b, "\n%s\n", heading)
		for _, l := range lines {
			fmt.Fprintf(&b, "  %s\n", l)
		}
	}
	if len(taken) == 0 {
		fmt.Fprintf(&b, "\nThere was nothing to carry over from %s.\n", c.Last)
	} else {
		list("Carried over from "+c.Last+", and read back the same:", taken)
	}
	if len(left) > 0 {
		list("Left behind:", left)
	}
	return b.String()
}

// cutsLeft says which cuts were left behind and why.
func cutsLeft(c blank.Carried) string {
	return fmt.Sprintf("%s of cuts that name no load %s left behind, %s (%s): carried on, their footage would count again each week; copy what still lies green",
		counted(c.Cuts, "row", "rows"), plural(c.Cuts, "was", "were"), counted(c.CutBoards, "board", "boards"), c.CutRows)
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

func counted(n int, one, many string) string { return fmt.Sprintf("%d %s", n, plural(n, one, many)) }
