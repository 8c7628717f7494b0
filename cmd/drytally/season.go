package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"
	"sync"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/yearbook"
	"drytally/ingest"
	"drytally/report"
	"drytally/report/write"
)

// season reads all workbooks, joins them and writes the papers of the season. A workbook that can't be read never stops the
// others; it is named on the papers.
func season(c call, out, errOut io.Writer) int {
	book, code := joined(c.paths, out, errOut)
	if book == nil {
		return code
	}
	files, err := report.SeasonPapers(book, about())
	if err != nil {
		tell(errOut, err)
		return exitFile
	}
	if c.to != "" {
		if err := os.MkdirAll(c.to, 0o755); err != nil {
			tell(errOut, fmt.Errorf("the folder %q can't be made: %w", c.to, err))
			return exitFile
		}
	}
	folder := ingest.SeasonFolder(c.paths, c.to)
	var papers write.Set
	for _, f := range files {
		if err := papers.Add(f.Name, f.Data); err != nil {
			tell(errOut, err)
			return exitFile
		}
	}
	if err := papers.Commit(folder, "the season", c.force); err != nil {
		tell(errOut, err)
		return exitFile
	}
	if err := report.SeasonSummary(out, book, folder, files); err != nil {
		tell(errOut, err)
		return exitFile
	}
	return code
}

// joined reads the workbooks of a season and joins them; nil when not one could be read. The code is that of the season.
func joined(paths []string, out, errOut io.Writer) (book *yearbook.Yearbook, code int) {
	sets, problem := ingest.GatherSeason(paths)
	read := 0
	for _, err := range each(problem) {
		tell(errOut, err)
		code = exitFile
	}
	weeks := slices.DeleteFunc(readWeeks(sets), func(w compute.Week) bool {
		if w.Unfilled {
			fmt.Fprintf(out, "%s: there is nothing in it yet, so it is passed over\n", printable(w.Files[0].Name))
		}
		return w.Unfilled
	})
	for _, w := range weeks {
		switch {
		case w.Unread != "":
			tell(errOut, errors.New(w.Unread))
			code = exitFile
			continue
		case w.SetAside > 0:
			code = max(code, exitSetAside)
		}
		read++
	}
	if read == 0 {
		return nil, exitFile // said of each
	}
	book = yearbook.Join(weeks)
	if book.Errors() > 0 {
		code = max(code, exitSetAside)
	}
	return book, code
}

// atOnce is how many workbooks are in memory at a time.
const atOnce = 2

// readWeeks reads and assesses the workbooks, two at a time where there are two processors, and keeps of each only what the season
// needs. The weeks come in the order of the sets.
func readWeeks(sets []ingest.Set) []compute.Week {
	weeks := make([]compute.Week, len(sets))
	next := make(chan int)
	var done sync.WaitGroup
	for range min(len(sets), atOnce, runtime.GOMAXPROCS(0)) {
		done.Go(func() {
			for i := range next {
				weeks[i] = readWeek(sets[i])
			}
		})
	}
	for i := range sets {
		next <- i
	}
	close(next)
	done.Wait()
	return weeks
}

// readWeek reads one workbook. A mistake of our own in one of them must not keep the others from the season.
func readWeek(set ingest.Set) (week compute.Week) {
	defer func() {
		if r := recover(); r != nil {
			week = compute.Week{Name: set.Owner(), Unread: fmt.Sprintf("%s: drytally itself is at fault (%v); please keep the file and report it", printable(set.Owner()), r)}
		}
	}()
	job, err := ingest.Read(set)
	if err != nil {
		return compute.Week{Name: set.Owner(), Unread: err.Error()}
	}
	result, week := compute.AssessWeek(job)
	if result.Unfilled() {
		week.Unfilled = true
		return week
	}
	if week.Used == 0 {
		none := finding.KindOf(finding.FileNoTable)
		return compute.Week{Name: week.Name, Files: week.Files, Unread: fmt.Sprintf("%s: error %s: %s", printable(set.Owner()), none.Code, none.Meaning)}
	}
	return week
}
