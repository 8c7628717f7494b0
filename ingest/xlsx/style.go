package xlsx

import (
	"strings"

	"drytally/compute/finding"
	"drytally/ingest/sheet"
)

// style is how a cell's number is shown.
type style struct {
	more     *sheet.More // for its cells: the format as the file gives it, nil for General
	sections []section
	format   sheet.Format // of the first section
	varies   bool         // the sections show a number in different ways: the value decides
}

// of gives the format for a number.
func (y *style) of(v float64) sheet.Format {
	if !y.varies {
		return y.format
	}
	return pick(y.sections, v)
}

func newStyle(code string) style {
	y := style{sections: parseFormat(code)}
	y.format = y.sections[0].format
	for _, sec := range y.sections {
		y.varies = y.varies || sec.format != y.format
	}
	if code != "" && !strings.EqualFold(code, "General") {
		y.more = &sheet.More{FormatCode: code}
	}
	return y
}

// builtin holds the number formats a file may name without writing them out (ECMA-376 Part 1, 18.8.30, numFmt; memory).
// 27-36 and 50-58 are dates whose look depends on the language; 5-8 and 37-44 are money.
var builtin = map[int]string{
	0: "General", 1: "0", 2: "0.00", 3: "#,##0", 4: "#,##0.00",
	5: `"$"#,##0_);("$"#,##0)`, 6: `"$"#,##0_);[Red]("$"#,##0)`, 7: `"$"#,##0.00_);("$"#,##0.00)`, 8: `"$"#,##0.00_);[Red]("$"#,##0.00)`,
	9: "0%", 10: "0.00%", 11: "0.00E+00", 12: "# ?/?", 13: "# ??/??",
	14: "mm-dd-yy", 15: "d-mmm-yy", 16: "d-mmm", 17: "mmm-yy", 18: "h:mm AM/PM", 19: "h:mm:ss AM/PM", 20: "h:mm", 21: "h:mm:ss", 22: "m/d/yy h:mm",
	27: "yyyy/m/d", 28: "m/d", 29: "m/d", 30: "m/d/yy", 31: "yyyy/m/d", 32: "h:mm", 33: "h:mm:ss", 34: "h:mm", 35: "h:mm:ss", 36: "yyyy/m/d",
	37: "#,##0 ;(#,##0)", 38: "#,##0 ;[Red](#,##0)", 39: "#,##0.00;(#,##0.00)", 40: "#,##0.00;[Red](#,##0.00)",
	41: "#,##0", 42: "#,##0", 43: "#,##0.00", 44: "#,##0.00", 45: "mm:ss", 46: "[h]:mm:ss", 47: "mm:ss.0", 48: "##0.0E+0", 49: "@",
	50: "yyyy/m/d", 51: "m/d", 52: "yyyy/m/d", 53: "m/d", 54: "m/d", 55: "yyyy/m/d", 56: "m/d", 57: "yyyy/m/d", 58: "m/d",
}

// readStyles reads the number format of every cell style.
func (c *container) readStyles(part string) ([]style, error) {
	custom := map[int]string{}
	var ids []int
	err := c.read(part, func(s *stream) error {
		if err := s.root(mainSpace, "styleSheet"); err != nil {
			return err
		}
		for {
			more, err := s.child()
			if err != nil || !more {
				return err
			}
			switch {
			case s.space == mainSpace && s.name == "numFmts":
				err = s.formats(custom)
			case s.space == mainSpace && s.name == "cellXfs":
				ids, err = s.cellStyles(ids)
			default:
				err = s.skip()
			}
			if err != nil {
				return err
			}
		}
	})
	if err != nil {
		return nil, err
	}
	made := map[int]style{}
	styles := make([]style, len(ids))
	for i, id := range ids {
		y, ok := made[id]
		if !ok {
			code, named := custom[id]
			if !named {
				code = builtin[id] // a format that is named nowhere is shown as General
			}
			y = newStyle(code)
			made[id] = y
		}
		styles[i] = y
	}
	return styles, nil
}

// formats reads the number formats the file writes out.
func (s *stream) formats(custom map[int]string) error {
	for {
		more, err := s.child()
		if err != nil || !more {
			return err
		}
		if s.space == mainSpace && s.name == "numFmt" {
			text, _ := s.attr("numFmtId")
			id, ok := wholeNumber(text)
			if !ok {
				return s.fault(finding.FileValue, "the number format %q has no proper number", text)
			}
			code, _ := s.attr("formatCode")
			custom[id] = string(unescape([]byte(code)))
		}
		if err := s.skip(); err != nil {
			return err
		}
	}
}

// cellStyles reads the number format of each cell style, in the order cells point at them.
func (s *stream) cellStyles(ids []int) ([]int, error) {
	for {
		more, err := s.child()
		if err != nil || !more {
			return ids, err
		}
		if s.space == mainSpace && s.name == "xf" {
			id := 0
			if text, given := s.attr("numFmtId"); given {
				var ok bool
				if id, ok = wholeNumber(text); !ok {
					return ids, s.fault(finding.FileValue, "the cell style %d has the number format %q, which is no number", len(ids), text)
				}
			}
			if len(ids) >= maxStyles {
				return ids, s.fault(finding.FileTooLarge, "there are more than %d cell styles", maxStyles)
			}
			ids = append(ids, id)
		}
		if err := s.skip(); err != nil {
			return ids, err
		}
	}
}

// maxStyles is the number of cell styles spreadsheet programs share (65 490 in the published limits; memory).
const maxStyles = 65536

// wholeNumber reads a number of up to nine digits and nothing else.
func wholeNumber[T string | []byte](text T) (int, bool) {
	from, to := 0, len(text)
	for from < to && isWhite(text[from]) {
		from++
	}
	for to > from && isWhite(text[to-1]) {
		to--
	}
	if from == to || to-from > 9 {
		return 0, false
	}
	n := 0
	for i := from; i < to; i++ {
		if text[i] < '0' || text[i] > '9' {
			return 0, false
		}
		n = n*10 + int(text[i]-'0')
	}
	return n, true
}
