package xlsx

import (
	"strconv"
	"strings"

	"drytally/ingest/sheet"
)

// section is one part of a number format: codes hold up to four, separated by semicolons, for positive numbers, negative
// numbers, zero and text. A condition such as [>=100] replaces that order.
type section struct {
	format sheet.Format
	test   string // < <= > >= = <> or empty
	bound  float64
}

// parseFormat reads a number format code (ECMA-376 Part 1, 18.8.31; memory). It returns the sections for numbers, at
// least one and at most three: a fourth section, or a last one with an @ in it (d-mmm;@), is for text alone.
func parseFormat(code string) []section {
	var sections []section
	for _, part := range splitSections(code) {
		sections = append(sections, parseSection(part))
	}
	if n := len(sections); n > 1 && sections[n-1].format == sheet.AsText {
		sections = sections[:n-1]
	}
	return sections[:min(len(sections), 3)]
}

// splitSections cuts a code at its semicolons, leaving those that are quoted, escaped or in brackets.
func splitSections(code string) []string {
	var parts []string
	from := 0
	for i := 0; i < len(code); i++ {
		switch code[i] {
		case '"':
			i += skipTo(code[i+1:], '"')
		case '[':
			i += skipTo(code[i+1:], ']')
		case '\\', '_', '*':
			i++
		case ';':
			parts = append(parts, code[from:i])
			from = i + 1
		}
	}
	return append(parts, code[from:])
}

// skipTo is the number of bytes up to and with the mark.
func skipTo(s string, mark byte) int {
	if i := strings.IndexByte(s, mark); i >= 0 {
		return i + 1
	}
	return len(s)
}

// parseSection tells what a section makes of a number. Only what stands outside quotes, escapes and brackets counts;
// in brackets, elapsed hours, minutes or seconds and conditions do.
func parseSection(part string) section {
	var sec section
	var bare strings.Builder
	elapsed := false
	for i := 0; i < len(part); i++ {
		switch c := part[i]; c {
		case '"':
			i += skipTo(part[i+1:], '"')
			bare.WriteByte(' ') // keeps "h" from meeting what stands behind it
		case '\\', '_', '*':
			i++
			bare.WriteByte(' ')
		case '[':
			n := skipTo(part[i+1:], ']')
			inside := strings.ToLower(strings.TrimSuffix(part[i+1:i+1+n], "]"))
			i += n
			if inside != "" && strings.Trim(inside, string(inside[0])) == "" && strings.ContainsAny(inside[:1], "hms") {
				elapsed = true
				bare.WriteString(inside)
			} else if test, bound, ok := condition(inside); ok {
				sec.test, sec.bound = test, bound
			}
		default:
			bare.WriteByte(c)
		}
	}
	sec.format = classify(strings.ToLower(bare.String()), elapsed)
	return sec
}

// condition reads >=100 and the like.
func condition(text string) (string, float64, bool) {
	n := len(text) - len(strings.TrimLeft(text, "<>="))
	test := text[:n]
	switch test {
	case "<", "<=", ">", ">=", "=", "<>":
		v, err := strconv.ParseFloat(strings.TrimSpace(text[n:]), 64)
		return test, v, err == nil
	}
	return "", 0, false
}

// classify names the format of a section in lower case without its quoted text.
func classify(code string, elapsed bool) sheet.Format {
	if strings.TrimSpace(code) == "" || strings.Contains(code, "general") {
		return sheet.General
	}
	day, clock, half := dateLetters(code)
	switch {
	case digits(code) && !elapsed:
		switch {
		case strings.Contains(code, "%"):
			return sheet.Percent
		case strings.Contains(code, "/"):
			return sheet.Fraction
		}
		return sheet.Decimal
	case day && clock:
		return sheet.DateTime
	case day:
		return sheet.Date
	case clock || half || elapsed:
		return sheet.Clock
	case strings.Contains(code, "%"):
		return sheet.Percent
	case strings.Contains(code, "@"):
		return sheet.AsText
	}
	return sheet.Decimal
}

// digits says whether a section has places for digits, other than those behind the point of seconds (ss.000). With
// such places a letter is a unit someone forgot to quote and not a day or an hour.
func digits(code string) bool {
	for i := 0; i < len(code); i++ {
		switch code[i] {
		case '#', '?':
			return true
		case '0':
			before := strings.TrimRight(code[:i], "0")
			if !strings.HasSuffix(before, "s.") && !strings.HasSuffix(before, "s,") {
				return true
			}
		}
	}
	return false
}

// dateLetters looks for days (year, month, day, era) and clock times in a section. An m is a minute behind an h or in
// front of an s, otherwise a month. AM/PM and A/P make a clock.
func dateLetters(code string) (day, clock, half bool) {
	for _, mark := range []string{"am/pm", "a/p"} {
		if strings.Contains(code, mark) {
			half = true
			code = strings.ReplaceAll(code, mark, " ")
		}
	}
	last := byte(0) // the letter of the run before
	for i := 0; i < len(code); {
		c := code[i]
		run := i
		for run < len(code) && code[run] == c {
			run++
		}
		switch c {
		case 'y', 'd', 'e', 'g', 'b', 'r', 'a':
			day = true
			last = c
		case 'h', 's':
			clock = true
			last = c
		case 'm':
			if run-i <= 2 && (last == 'h' || nextLetter(code[run:]) == 's') {
				clock = true
			} else {
				day = true
			}
			last = c
		}
		i = run
	}
	return day, clock, half
}

// nextLetter is the next letter that means a part of a date or a time, or 0.
func nextLetter(code string) byte {
	if i := strings.IndexAny(code, "ydegbrahsm"); i >= 0 {
		return code[i]
	}
	return 0
}

// pick gives the format of the section that a number falls to.
func pick(sections []section, v float64) sheet.Format {
	last := len(sections) - 1
	for i, sec := range sections[:last] {
		if sec.holds(v, i, len(sections)) {
			return sec.format
		}
	}
	return sections[last].format
}

// holds says whether a number falls to section i of n that is not the last.
func (sec section) holds(v float64, i, n int) bool {
	switch sec.test {
	case "<":
		return v < sec.bound
	case "<=":
		return v <= sec.bound
	case ">":
		return v > sec.bound
	case ">=":
		return v >= sec.bound
	case "=":
		return v == sec.bound
	case "<>":
		return v != sec.bound
	}
	switch {
	case i == 0 && n == 2:
		return v >= 0
	case i == 0:
		return v > 0
	}
	return v < 0
}
