package sheet

import (
	"fmt"

	"drytally/compute/finding"
)

// FileError says why a whole file was refused. Nothing of such a file is used.
//
// Part is the piece inside a workbook file (xl/worksheets/sheet2.xml), empty when the whole file is meant. Problem and
// Hint are lower case and have no full stop; Hint may be empty when there is nothing to do about it.
type FileError struct {
	Code       finding.Code
	File, Part string
	Problem    string
	Hint       string
}

// Error writes file, code, part and problem, and the hint, in one sentence.
func (e *FileError) Error() string {
	s := fmt.Sprintf("%s: %s %s: ", e.File, finding.KindOf(e.Code).Severity, e.Code)
	if e.Part != "" {
		s += e.Part + ": "
	}
	s += e.Problem
	if e.Hint != "" {
		s += "; " + e.Hint
	}
	return s
}

// Finding gives the refusal as a finding about the file, for the list shown to the owner.
func (e *FileError) Finding() finding.Finding {
	problem := e.Problem
	if e.Part != "" {
		problem = e.Part + ": " + problem
	}
	return finding.Finding{Code: e.Code, Severity: finding.KindOf(e.Code).Severity,
		Place: finding.Place{File: e.File}, Problem: problem, Hint: e.Hint}
}

// Refuse makes a FileError whose hint is the one of its kind.
func Refuse(code finding.Code, file, part, problem string, args ...any) *FileError {
	if len(args) > 0 {
		problem = fmt.Sprintf(problem, args...)
	}
	return &FileError{Code: code, File: file, Part: part, Problem: problem, Hint: finding.KindOf(code).ToDo}
}
