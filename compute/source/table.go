package source

import (
	"encoding/csv"
	"fmt"
	"strings"

	"github.com/gocarina/gocsv"
)

// Rows reads a table of the program: comment lines (#) on top, a heading row, then one row for each T, whose fields are the columns in
// their order by their csv tags. It fails when the heading row is another, which gocsv alone would pass over in silence.
func Rows[T any](text string) ([]T, error) {
	want, err := gocsv.MarshalString([]T{})
	if err != nil {
		return nil, err
	}
	heading, err := reader(text).Read()
	if err != nil {
		return nil, err
	}
	if strings.Join(heading, ",") != strings.TrimSpace(want) {
		return nil, fmt.Errorf("the heading row is %q, not %q", strings.Join(heading, ","), strings.TrimSpace(want))
	}
	var rows []T
	err = gocsv.UnmarshalCSV(reader(text), &rows)
	return rows, err
}

func reader(text string) *csv.Reader {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	return r
}

// ParseStatus reads a status as the tables of the program write it. Other words give NotSaid, and so do the owner's and our own, which no table holds.
func ParseStatus(word string) Status {
	for s := Seen; s <= CommonPractice; s++ {
		if s.String() == word {
			return s
		}
	}
	return NotSaid
}

// Must returns v. It panics on an error: a damaged table of the program is our mistake, and the tests read every table.
func Must[T any](v T, err error) T {
	if err != nil {
		panic("a table of the program is damaged: " + err.Error())
	}
	return v
}
