// Package xlsx reads workbooks (.xlsx, .xlsm) strictly. A workbook that is damaged is refused with the name of the
// damaged part; a sound one comes back whole: every cell that holds something, with its place, its stored value and how
// its style shows it.
//
// The format is ECMA-376 (Office Open XML), both its transitional and its strict form, packed after ECMA-376 Part 2.
package xlsx

import (
	"path"
	"strings"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// Read reads a workbook from its bytes. Name is the file's name, of which the last step is used in messages. Errors are
// *sheet.FileError. Chart pages hold no cells and are left out. SHA256 is left empty.
//
// The limits stand in package sheet (MaxPartBytes and the rest). A formula's stored result is used; nothing is
// calculated. A cell that is blank is left out unless it holds a formula or a comment.
func Read(name string, data []byte) (*sheet.Workbook, error) {
	file := path.Base(strings.ReplaceAll(name, `\`, "/"))
	if len(data) == 0 {
		return nil, sheet.Refuse(finding.FileEmpty, file, "", finding.KindOf(finding.FileEmpty).Meaning)
	}
	c, err := openContainer(file, data)
	if err != nil {
		return nil, err
	}
	main, err := c.mainPart()
	if err != nil {
		return nil, err
	}
	b := &book{container: c, out: &sheet.Workbook{Name: file}}
	listed, err := b.readMain(main)
	if err != nil {
		return nil, err
	}
	if err := b.readTables(main, listed); err != nil {
		return nil, err
	}
	return b.out, nil
}

// book is a workbook being read.
type book struct {
	*container
	out     *sheet.Workbook
	strings []string
	styles  []style
	packer  sheet.Packer
}

// page is a sheet as the main part lists it.
type page struct {
	name, id string
	hidden   bool
}

// readMain reads the main part: the date system and the list of sheets.
func (b *book) readMain(part string) ([]page, error) {
	var pages []page
	err := b.read(part, func(s *stream) error {
		if err := s.root(mainSpace, "workbook"); err != nil {
			return err
		}
		for {
			more, err := s.child()
			if err != nil {
				return err
			}
			if !more {
				break
			}
			switch {
			case s.space == mainSpace && s.name == "workbookPr":
				if b.out.Date1904, err = s.flag("date1904"); err == nil {
					err = s.skip()
				}
			case s.space == mainSpace && s.name == "sheets":
				pages, err = s.pages(pages)
			default:
				err = s.skip()
			}
			if err != nil {
				return err
			}
		}
		if len(pages) == 0 {
			return s.fault(finding.FileLayout, "the workbook lists no sheets")
		}
		return nil
	})
	return pages, err
}

// pages reads the list of sheets. No two may bear the same name or lead to the same part.
func (s *stream) pages(pages []page) ([]page, error) {
	names := map[string]bool{}
	for {
		more, err := s.child()
		if err != nil || !more {
			return pages, err
		}
		if s.space != mainSpace || s.name != "sheet" {
			return nil, s.fault(finding.FileLayout, "the tag <%s> does not belong in the list of sheets", s.name)
		}
		name, _ := s.attr("name")
		name = string(unescape([]byte(name)))
		state, _ := s.attr("state")
		p := page{name: name, id: s.id()}
		switch state {
		case "", "visible":
		case "hidden", "veryHidden":
			p.hidden = true
		default:
			return nil, s.fault(finding.FileValue, "the sheet %q is said to be %q, neither visible nor hidden", name, state)
		}
		switch key := strings.ToLower(name); {
		case name == "":
			return nil, s.fault(finding.FileLayout, "sheet %d has no name", len(pages)+1)
		case names[key]:
			return nil, s.fault(finding.FileLayout, "two sheets bear the name %q", name)
		case p.id == "":
			return nil, s.fault(finding.FilePartMissing, "the sheet %q is listed without a part", name)
		case len(pages) >= sheet.MaxSheets:
			return nil, s.fault(finding.FileTooLarge, "there are more than %d sheets", sheet.MaxSheets)
		default:
			names[key] = true
		}
		pages = append(pages, p)
		if err := s.skip(); err != nil {
			return nil, err
		}
	}
}

// readTables follows the main part's relationships to the texts, the styles and the sheets.
func (b *book) readTables(main string, listed []page) error {
	links, order, err := b.links(main, true)
	if err != nil {
		return err
	}
	missing := func(problem string, args ...any) error {
		return sheet.Refuse(finding.FilePartMissing, b.file, main, problem, args...)
	}
	textParts, styleParts := 0, 0
	for _, id := range order {
		switch l := links[id]; l.kind {
		case "sharedStrings":
			textParts++
			b.strings, err = b.readStrings(l.target)
		case "styles":
			styleParts++
			b.styles, err = b.readStyles(l.target)
		}
		if err != nil {
			return err
		}
	}
	if textParts > 1 || styleParts > 1 {
		return sheet.Refuse(finding.FileLayout, b.file, main, "two tables of texts or two tables of styles are named")
	}
	used := map[string]bool{}
	for _, p := range listed {
		l, ok := links[p.id]
		if !ok {
			return missing("the sheet %q is listed without a part", p.name)
		}
		if key := partKey(l.target); used[key] {
			return sheet.Refuse(finding.FileLayout, b.file, main, "the sheet %q uses the same part as another sheet", p.name)
		} else {
			used[key] = true
		}
		switch l.kind {
		case "worksheet":
			if err := b.readSheet(p, l.target); err != nil {
				return err
			}
		case "chartsheet", "dialogsheet":
			if b.find(l.target) == nil {
				return missing("the part %s of sheet %q is missing from the file", l.target, p.name)
			}
		default:
			return sheet.Refuse(finding.FileLayout, b.file, main, "the sheet %q is of a kind that is not read (%s)", p.name, l.kind)
		}
	}
	return nil
}

// readSheet reads a sheet with its comments.
func (b *book) readSheet(p page, part string) error {
	out := sheet.Sheet{Name: p.name, Hidden: p.hidden, HiddenCols: map[int]bool{}}
	if err := b.readCells(part, &out); err != nil {
		return err
	}
	links, order, err := b.links(part, false)
	if err != nil {
		return err
	}
	notes := comments{}
	for _, id := range order {
		if l := links[id]; l.kind == "comments" {
			if err := b.readComments(l.target, notes); err != nil {
				return err
			}
		}
	}
	notes.attach(&out, &b.packer)
	b.out.Sheets = append(b.out.Sheets, out)
	return nil
}
