package cell

import (
	"math/big"
	"regexp"
	"strings"

	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/ingest/sheet"
)

const readingHint = "write 9.5 with a point, LO if the meter showed its low mark, OL if it showed its high mark, or leave the cell empty"

// The lowest and highest number taken as a meter's answer, in percent: below 1 a percentage was most likely stored as a
// part of one, above 100 a point was lost (no meter for boards shows more).
const lowestReading, highestReading = 1, 100

var (
	ownLetterFraction = regexp.MustCompile(`(\d) ?([½¼¾])`)
	decimalOf         = map[string]string{"½": ".5", "¼": ".25", "¾": ".75"}

	wetDry      = regexp.MustCompile(`\b(wet|dry|damp|moist|green|soaked|ok|okay|good|fine|done|ready)\b`)
	notTaken    = regexp.MustCompile(`^\(?(not taken|no reading|not read|not measured|skip|skipped|none|missing)\)?$`)
	rangeOfTwo  = regexp.MustCompile(`\d ?%? ?(-|to|\.\.+) ?\d|[^,;/\s] +-+( |$)`)
	tornDecimal = regexp.MustCompile(`\d \d+ ?/ ?\d|^\d+ \d$`) // 10 1/2; 10 5, which may be 10.5

	readingWords = strings.NewReplacer("n/a", "na", "o.l.", "ol", "o.l", "ol", "l.o.", "lo", "≤", "<=", "≥", ">=",
		"+/-", "~", "±", "~", "(?)", "?")
	readingForms = []struct {
		form *regexp.Regexp
		to   string
	}{
		{regexp.MustCompile(`\bo/l\b`), "ol"},
		{regexp.MustCompile(`\b(?:under|below)[ -]?range\b`), "lo"},
		{regexp.MustCompile(`\b(?:over|above)[ -]?range\b|\boverload\b|\bover limit\b`), "ol"},
		{regexp.MustCompile(`\b(?:less than|lower than|under|below) ?(\d|\.\d)`), "<$1"},
		{regexp.MustCompile(`\b(?:more than|greater than|higher than|over|above) ?(\d|\.\d)`), ">$1"},
		{regexp.MustCompile(`\b(?:about|abt|approximately|approx|circa|ca|around|roughly)\b\.? ?`), "~"},
		{regexp.MustCompile(` ?(?:%|\bpercent\b|\bpct\b)(?: ?mc\b)?|(\d) ?mc\b`), "$1"},
		{regexp.MustCompile(`([<>~]) `), "$1"},
		{regexp.MustCompile(` ([+?])`), "$1"},
		{regexp.MustCompile(`(\d) (?:or more|and up|and over|plus)\b`), "$1+"},
	}

	readingSeparator = regexp.MustCompile(` ?[/;&] ?| ?, | ?,$| and | `)
	readingItem      = regexp.MustCompile(`^(~*)(<|>)?([\d.,]+)(\+)?(\?*)$`)
	readingMark      = regexp.MustCompile(`^(~*)([a-z-]+)(\?*)$`)
	readingMarks     = map[string]units.ReadingState{"lo": units.BelowRange, "low": units.BelowRange, "ol": units.AboveRange,
		"hi": units.AboveRange, "high": units.AboveRange, "over": units.AboveRange, "under": units.BelowRange,
		"-": units.NotTaken, "--": units.NotTaken, "na": units.NotTaken}
)

// Readings reads the moisture readings of one cell, in the order written. An empty cell gives none; a dash inside a list
// gives one that was not taken. Marks without a number (LO, OL) have MC 0.
func Readings(c sheet.Cell, x Context) ([]units.Reading, []Problem) {
	if skip, ps := unread(c); skip {
		return nil, ps
	}
	if p := noFigure(c, x, readingHint); p != nil {
		return nil, list(p)
	}
	if c.Kind == sheet.Number {
		v, ok := stored(c)
		if !ok {
			return nil, list(storedProblem(c))
		}
		if c.Format == sheet.Percent {
			v.Mul(v, rat(100))
		}
		mc, p := readingMC(v, stands(c, x))
		if p != nil {
			return nil, list(p)
		}
		return []units.Reading{{State: units.Number, MC: mc}}, nil
	}
	return readings(c, x)
}

// readingMC refuses numbers no meter shows.
func readingMC(v *big.Rat, stands string) (units.MC, *Problem) {
	switch {
	case v.Sign() <= 0:
		return 0, fault(finding.CellNotPositive, readingHint, "%s is zero or less, and a moisture reading can't be", stands)
	case v.Cmp(rat(lowestReading)) < 0:
		return 0, fault(finding.CellPercentOrPart, "write the reading in percent, such as 10.5; or LO if the meter showed its low mark",
			"%s may be a reading in percent or a percentage stored as a part of one", stands)
	case v.Cmp(rat(highestReading)) > 0:
		return 0, fault(finding.CellOutOfRange, "look for a lost point: 10.5 and not 105", "%s is over %d %%, more than a meter shows", stands, highestReading)
	}
	n, _ := scaled(v, 100)
	return units.MC(n), nil
}

// readings reads the text of a readings cell.
func readings(c sheet.Cell, x Context) ([]units.Reading, []Problem) {
	stand := stands(c, x)
	unlike := list(fault(finding.CellReading, readingHint, "%s is not a moisture reading", stand))
	s := ownLetterFraction.ReplaceAllStringFunc(c.Text, func(f string) string {
		for letter, d := range decimalOf {
			f = strings.ReplaceAll(strings.ReplaceAll(f, " "+letter, d), letter, d)
		}
		return f
	})
	s = readingWords.Replace(clean(s))
	if len(s) > longestFigure {
		return nil, unlike
	}
	if notTaken.MatchString(s) {
		return nil, nil
	}
	for _, f := range readingForms {
		s = f.form.ReplaceAllString(s, f.to)
	}
	s = strings.TrimSpace(strings.TrimRight(s, ",; "))
	s = strings.TrimPrefix(s, "'")
	if wetDry.MatchString(s) {
		return nil, list(fault(finding.CellWetDry, "write what the meter showed: a number, LO for its low mark, OL for its high mark; or leave the cell empty",
			"%s says what was thought of the board and not what the meter showed", stand))
	}
	if rangeOfTwo.MatchString(s) {
		return nil, list(fault(finding.CellSeveral, "write each reading with a comma and a space between: 10, 12", "%s is a range and not a reading", stand))
	}
	if tornDecimal.MatchString(s) {
		return nil, list(fault(finding.CellReading, "write readings apart by commas and spaces: 10, 12, 14; and half a point as 10.5",
			"%s can be read as one reading or as several", stand))
	}
	var items []string
	if isCommaList(s, x.DecimalComma) {
		items = strings.Split(s, ",")
	} else {
		spaced, marked := false, false
		for _, sep := range readingSeparator.FindAllString(s, -1) {
			if sep == " " {
				spaced = true
			} else {
				marked = true
			}
		}
		items = readingSeparator.Split(s, -1)
		words := strings.ContainsFunc(s, func(r rune) bool { return r >= 'a' && r <= 'z' })
		// LO 6 may be one answer or two; 12/14 11 may leave out a separator or a word.
		if spaced && (marked || words && strings.ContainsAny(s, "0123456789")) {
			return nil, list(fault(finding.CellReading, "write readings apart by commas and spaces, such as LO, 12; and words in a column of their own",
				"%s can't be read as moisture readings in one way", stand))
		}
	}
	var all []units.Reading
	for _, item := range items {
		r, ps := readingOf(item, x, stand)
		if ps != nil {
			if len(ps) == 0 {
				ps = unlike
			}
			return nil, ps
		}
		all = append(all, r)
	}
	return all, nil
}

// readingOf reads one item. The problems are nil when it was read; they are empty when it is no reading at all.
func readingOf(item string, x Context, stand string) (units.Reading, []Problem) {
	if m := readingMark.FindStringSubmatch(item); m != nil {
		state, ok := readingMarks[m[2]]
		doubtful := m[1]+m[3] != ""
		if !ok || state == units.NotTaken && doubtful {
			return units.Reading{}, []Problem{}
		}
		return units.Reading{State: state, Doubtful: doubtful}, nil
	}
	m := readingItem.FindStringSubmatch(item)
	if m == nil {
		if len(item) > 1 && item[0] == '-' && isDigit(item[1]) {
			return units.Reading{}, list(fault(finding.CellNotPositive, readingHint, "%s is less than zero, and a moisture reading can't be", stand))
		}
		return units.Reading{}, []Problem{}
	}
	number := strings.TrimSuffix(m[3], ".")
	v, ok, twoWays := decimal(number, x.DecimalComma)
	if twoWays {
		p := commaProblem(number, item)
		p.Problem = stand + " can be read two ways, because the file doesn't settle what its comma means"
		return units.Reading{}, list(p)
	}
	if !ok || m[2] != "" && m[4] != "" {
		return units.Reading{}, []Problem{}
	}
	mc, p := readingMC(v, stand)
	if p != nil {
		return units.Reading{}, list(p)
	}
	r := units.Reading{State: units.Number, MC: mc, Doubtful: m[1]+m[5] != ""}
	switch {
	case m[2] == "<":
		r.State = units.BelowRange
	case m[2] == ">" || m[4] != "":
		r.State = units.AboveRange
	}
	return r, nil
}
