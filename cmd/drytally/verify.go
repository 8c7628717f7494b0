package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"drytally/compute"
	"drytally/ingest"
	"drytally/report"
	"drytally/report/write"
)

// verifyPapers says of every paper named whether it is as the program wrote it. Among the paths are papers or folders of
// papers, and one source: the workbook, its folder or CSV files, or the results.json written with the papers; of a season's papers, all
// its workbooks or their folder.
func verifyPapers(paths []string, out, errOut io.Writer) int {
	papers, sources, err := parted(paths)
	if err != nil {
		tell(errOut, err)
		return exitFile
	}
	if len(papers) == 0 || len(sources) == 0 {
		fmt.Fprintln(errOut, "drytally: name the papers and the workbook they came from: drytally verify PAPER.pdf WEEK.xlsx")
		return exitCall
	}
	ofSeason := 0
	for _, path := range papers {
		if slices.Contains(seasonal, strings.ToLower(filepath.Base(path))) {
			ofSeason++
		}
	}
	if ofSeason != 0 && ofSeason != len(papers) {
		fmt.Fprintln(errOut, "drytally: name papers of a season with all its workbooks, or papers of one week with its own")
		return exitCall
	}
	check, code := checker(sources, ofSeason > 0, errOut)
	if code != exitWritten {
		return code
	}
	var all []report.Verified
	for _, path := range papers {
		data, err := os.ReadFile(path)
		if err != nil {
			fmt.Fprintf(errOut, "drytally: %q can't be read: %v\n", path, ingest.Cause(err))
			code = exitFile
			continue
		}
		v := check(filepath.Base(path), data)
		v.Name = path
		all = append(all, v)
		if !v.Same {
			code = max(code, exitSetAside)
		}
	}
	if err := report.WriteVerified(out, all); err != nil {
		tell(errOut, err)
		return exitFile
	}
	return code
}

// parted tells papers from sources. A folder of papers stands for all papers in it. A workbook or a list of results named
// beside another source is a paper itself.
func parted(paths []string) (papers, sources []string, err error) {
	var either []string
	for _, path := range paths {
		info, err := os.Stat(path)
		switch {
		case err != nil:
			return nil, nil, fmt.Errorf("%q can't be read: %w", path, ingest.Cause(err))
		case info.IsDir():
			in, err := papersIn(path)
			if err != nil {
				return nil, nil, err
			}
			if in == nil {
				sources = append(sources, path)
			}
			papers = append(papers, in...)
		case strings.EqualFold(filepath.Ext(path), ".pdf"):
			papers = append(papers, path)
		case slices.Contains(written, strings.ToLower(filepath.Base(path))):
			either = append(either, path)
		default:
			sources = append(sources, path)
		}
	}
	if len(sources) > 0 {
		return append(papers, either...), sources, nil
	}
	// Of results.xlsx and results.json alone, the list is what papers are held against.
	for _, path := range either {
		if isList(path) && len(sources) == 0 {
			sources = append(sources, path)
		} else {
			papers = append(papers, path)
		}
	}
	return papers, sources, nil
}

// written are the papers that are no PDF, seasonal those of a season.
var (
	written  = []string{"results.xlsx", "results.json", "season.xlsx"}
	seasonal = []string{"season.pdf", "season.xlsx"}
)

func isList(path string) bool { return strings.EqualFold(filepath.Ext(path), ".json") }

// papersIn lists the papers of a folder that the program wrote; nil when it is no such folder.
func papersIn(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, fmt.Errorf("the folder %q can't be read: %w", folder, ingest.Cause(err))
	}
	ours := false
	papers := []string{}
	for _, e := range entries {
		name := strings.ToLower(e.Name())
		ours = ours || e.Name() == write.ListName
		if !e.IsDir() && (filepath.Ext(name) == ".pdf" || slices.Contains(written, name)) {
			papers = append(papers, filepath.Join(folder, e.Name()))
		}
	}
	if !ours {
		return nil, nil
	}
	return papers, nil
}

// checker reads the source, of a season all its workbooks, and gives what compares a paper with it.
func checker(sources []string, season bool, errOut io.Writer) (check func(name string, paper []byte) report.Verified, code int) {
	fail := func(code int, err error) (func(string, []byte) report.Verified, int) {
		tell(errOut, err)
		return nil, code
	}
	if slices.ContainsFunc(sources, isList) {
		if len(sources) > 1 {
			return fail(exitCall, fmt.Errorf("name one source: the workbook or results.json"))
		}
		data, err := os.ReadFile(sources[0])
		if err != nil {
			return fail(exitFile, fmt.Errorf("%q can't be read: %w", sources[0], ingest.Cause(err)))
		}
		listed, err := report.ReadListed(data)
		if err != nil {
			return fail(exitFile, fmt.Errorf("%s: %w", printable(sources[0]), err))
		}
		return listed.Verify, exitWritten
	}
	against := func(files []write.File, inputs []compute.InputFile) (func(string, []byte) report.Verified, int) {
		return func(name string, paper []byte) report.Verified {
			return report.Verify(name, paper, files, inputs, about())
		}, exitWritten
	}
	if season {
		book, code := joined(sources, io.Discard, errOut)
		if book == nil {
			return nil, code
		}
		files, err := report.SeasonPapers(book, about())
		if err != nil {
			return fail(exitFile, err)
		}
		return against(files, book.Files())
	}
	sets, err := ingest.Gather(sources)
	if err != nil {
		return fail(exitFile, err)
	}
	if len(sets) != 1 {
		return fail(exitCall, fmt.Errorf("these are %d workbooks; name the one the papers came from", len(sets)))
	}
	job, err := ingest.Read(sets[0])
	if err != nil {
		return fail(exitFile, err)
	}
	files, err := report.Papers(compute.Assess(job), about())
	if err != nil {
		return fail(exitFile, fmt.Errorf("%s: %w", printable(sets[0].Name), err))
	}
	return against(files, job.Files)
}
