package season

import (
	_ "embed" // the table
	"fmt"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"drytally/compute/source"
)

//go:embed store.csv
var storeText string

// Kept says how boards are kept after the kiln. The zero value is "not said": then the slowest and the fastest way of the
// table make the range.
type Kept uint8

// The ways of keeping.
const (
	KeptNotSaid Kept = iota
	Wrapped
	ClosedShed
	OpenShed
	Stickered
)

var keptWords = []string{"not said", "wrapped", "closed shed", "open shed", "stickered"}

// String gives the word of the table.
func (k Kept) String() string { return keptWords[k] }

// Pace is how fast boards kept in one way go toward the air.
type Pace struct {
	Kept              Kept
	About             string  // in a few words
	slow, first, then float64 // points of MC a month
	days              float64 // the fast pace first holds this long
	slowest, fastest  float64 // days until the air is reached; 0 when the pace is given in points
	Source            source.Source
}

// PaceOf returns what is printed of a way of keeping. For KeptNotSaid the two ends come from boards in an unbroken wrap and
// boards open on stickers.
func PaceOf(k Kept) Pace {
	all := paces()
	if k != KeptNotSaid {
		return all[k-1]
	}
	slow, fast := all[Wrapped-1], all[Stickered-1]
	return Pace{About: "from an unbroken wrap to open on stickers, as it is not said", slow: slow.slow, fastest: fast.fastest,
		Source: source.Source{Document: slow.Source.Document + "; " + fast.Source.Document, Status: fast.Source.Status}}
}

// KeptOf reads how boards are kept from everyday words: "wrapped pack", "closed shed", "stickered in the shop". Words that
// tell nothing of it give KeptNotSaid: a shed that is neither open nor closed, a shop, a store.
func KeptOf(text string) Kept {
	var wrap, open, closed, sticks, solid, roof, shed bool
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
		switch w {
		case "not", "no", "never", "or", "unwrapped", "without", "unstickered":
			return KeptNotSaid
		case "wrapped", "wrap", "plastic", "film", "sealed":
			wrap = true
		case "open", "leanto", "carport", "sided":
			open = true
		case "closed", "unheated", "enclosed", "shut":
			closed = true
		case "stickered", "stickers", "sticks", "stickering":
			sticks = true
		case "solid", "dead", "close", "tight", "packed", "piled":
			solid = true
		case "roof", "tarp":
			roof = true
		case "shed", "barn", "garage", "building", "storage", "store":
			shed = true
		}
	}
	switch {
	case wrap && !sticks && !open:
		return Wrapped
	case wrap || sticks && solid || open && closed:
		return KeptNotSaid
	case sticks:
		return Stickered
	case open && shed || roof:
		return OpenShed
	case closed && shed:
		return ClosedShed
	}
	return KeptNotSaid
}

var paces = sync.OnceValue(func() []Pace { return source.Must(readPaces(storeText)) })

type paceLine struct {
	Kept     string `csv:"kept"`
	Slow     string `csv:"slow"`
	First    string `csv:"first"`
	Days     string `csv:"days"`
	Then     string `csv:"then"`
	Slowest  string `csv:"slowest"`
	Fastest  string `csv:"fastest"`
	About    string `csv:"about"`
	Document string `csv:"document"`
	Status   string `csv:"status"`
}

func readPaces(text string) ([]Pace, error) {
	lines, err := source.Rows[paceLine](text)
	if err != nil {
		return nil, fmt.Errorf("paces of keeping: %w", err)
	}
	var out []Pace
	for i, l := range lines {
		if i+1 >= len(keptWords) || l.Kept != keptWords[i+1] || source.ParseStatus(l.Status) == source.NotSaid {
			return nil, fmt.Errorf("paces of keeping: bad line %q", l)
		}
		p := Pace{Kept: Kept(i + 1), About: l.About, Source: source.Source{Document: l.Document, Status: source.ParseStatus(l.Status)}}
		cells := []struct {
			text string
			into *float64
		}{{l.Slow, &p.slow}, {l.First, &p.first}, {l.Days, &p.days}, {l.Then, &p.then}}
		if l.Slow == "" {
			cells = []struct {
				text string
				into *float64
			}{{l.Slowest, &p.slowest}, {l.Fastest, &p.fastest}}
		}
		for _, c := range cells {
			x, err := strconv.ParseFloat(c.text, 64)
			if err != nil || x < 0 {
				return nil, fmt.Errorf("paces of keeping: bad figure %q in %q", c.text, l)
			}
			*c.into = x
		}
		out = append(out, p)
	}
	if len(out) != len(keptWords)-1 {
		return nil, fmt.Errorf("paces of keeping: %d ways, want %d", len(out), len(keptWords)-1)
	}
	return out, nil
}
