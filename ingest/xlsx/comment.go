package xlsx

import (
	"cmp"
	"slices"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// comments holds the text of each commented cell.
type comments map[[2]int]string

// readComments reads a comments part.
func (b *book) readComments(part string, notes comments) error {
	return b.read(part, func(s *stream) error {
		if err := s.root(mainSpace, "comments"); err != nil {
			return err
		}
		for {
			more, err := s.child()
			if err != nil || !more {
				return err
			}
			if s.space == mainSpace && s.name == "commentList" {
				err = b.commentList(s, notes)
			} else {
				err = s.skip()
			}
			if err != nil {
				return err
			}
		}
	})
}

func (b *book) commentList(s *stream, notes comments) error {
	for {
		more, err := s.child()
		if err != nil || !more {
			return err
		}
		if s.space != mainSpace || s.name != "comment" {
			if err := s.skip(); err != nil {
				return err
			}
			continue
		}
		ref, _ := s.attr("ref")
		row, col, ok := cellPlace(ref)
		if !ok {
			return s.fault(finding.FileOrder, "a comment belongs to %q, which is no cell", ref)
		}
		if _, twice := notes[[2]int{row, col}]; twice {
			return s.fault(finding.FileOrder, "the cell %s has two comments", cellName(row, col))
		}
		if b.left.Cells--; b.left.Cells < 0 {
			return b.tooManyCells(s)
		}
		text, err := s.comment()
		if err != nil {
			return err
		}
		notes[[2]int{row, col}] = text
	}
}

// comment reads the text of one comment.
func (s *stream) comment() (string, error) {
	var buf []byte
	for {
		more, err := s.child()
		if err != nil || !more {
			return string(buf), err
		}
		if s.space == mainSpace && s.name == "text" {
			buf, err = s.richText(buf)
		} else {
			err = s.skip()
		}
		if err != nil {
			return "", err
		}
	}
}

// attach puts the comments on their cells. A comment on a blank cell makes that cell stand in the sheet.
func (notes comments) attach(out *sheet.Sheet, packer *sheet.Packer) {
	if len(notes) == 0 {
		return
	}
	extra := make([]sheet.Cell, 0, len(notes))
	for place, text := range notes {
		extra = append(extra, sheet.Cell{Row: place[0], Col: place[1], More: &sheet.More{Comment: text}})
	}
	slices.SortFunc(extra, func(a, b sheet.Cell) int { return cmp.Or(a.Row-b.Row, a.Col-b.Col) })
	rows := make([]sheet.Row, 0, len(out.Rows)+len(extra))
	old := out.Rows
	for len(old) > 0 || len(extra) > 0 {
		var row sheet.Row
		if len(extra) == 0 || len(old) > 0 && old[0].Number <= extra[0].Row {
			row, old = old[0], old[1:]
		} else {
			row = sheet.Row{Number: extra[0].Row}
		}
		n := 0
		for n < len(extra) && extra[n].Row == row.Number {
			n++
		}
		if n > 0 {
			row = packer.Row(row.Number, row.Hidden, merge(slices.Collect(row.Cells()), extra[:n]))
			extra = extra[n:]
		}
		rows = append(rows, row)
	}
	out.Rows = rows
}

// merge puts the comments of one row on its cells; both are in order of column.
func merge(cells, extra []sheet.Cell) []sheet.Cell {
	merged := make([]sheet.Cell, 0, len(cells)+len(extra))
	for len(cells) > 0 || len(extra) > 0 {
		switch {
		case len(extra) == 0 || len(cells) > 0 && cells[0].Col < extra[0].Col:
			merged, cells = append(merged, cells[0]), cells[1:]
		case len(cells) == 0 || extra[0].Col < cells[0].Col:
			merged, extra = append(merged, extra[0]), extra[1:]
		default:
			extra[0].More.FormatCode = cells[0].FormatCode()
			cells[0].More = extra[0].More
			merged, cells, extra = append(merged, cells[0]), cells[1:], extra[1:]
		}
	}
	return merged
}
