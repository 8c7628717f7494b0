// Package profile knows the shapes boards are milled to: what of a board shows, how far it laps the next one, and how face, lap and
// overall width follow from each other.
package profile

import (
	"fmt"
	"slices"
	"strings"

	"drytally/compute/source"
	"drytally/compute/units"
)

// Kind is a kind of profile. The zero value is "not said", which is computed as square.
type Kind uint8

// The kinds.
const (
	NotSaid Kind = iota
	Square
	Lapped       // rabbeted on both edges: shiplap
	Beveled      // thin on one edge, each course laps the one below: the exposure is the carpenter's to choose
	TongueGroove // tongue on one edge, groove in the other
	BoardBatten  // the wide boards of board and batten
	Batten       // the narrow ones that cover their gaps
	Stile        // upright of a door's frame
	Rail         // crosspiece of a door's frame
	Panel        // floats in the grooves of stiles and rails
)

// String gives the trade's word.
func (k Kind) String() string {
	return [...]string{"not said", "square", "lapped", "beveled", "tongue and groove", "board and batten", "batten", "door stile", "door rail", "door panel"}[k]
}

// Joined reports whether boards of the kind lap or enter each other, so that less than the overall width shows.
func (k Kind) Joined() bool { return k == Lapped || k == Beveled || k == TongueGroove }

// words are what the trade calls each kind, in small letters, parted by single blanks. The longest words found in a text decide.
var words = []struct {
	kind  Kind
	words []string
}{
	{Square, []string{"square", "square edge", "square edged", "s4s", "s2s", "s1s", "s1s2e", "plain", "straight", "straight edge", "flat", "eased", "eased edge", "eased edges", "none", "rough"}},
	{Lapped, []string{"lapped", "shiplap", "ship lap", "shiplapped", "rabbet", "rabbeted", "rabbetted", "rebate", "rebated", "half lap", "half lapped", "rabbeted bevel",
		"rabbeted beveled", "lap joint", "lap"}},
	{Beveled, []string{"bevel", "beveled", "bevelled", "bevel siding", "beveled siding", "clapboard", "clapboards", "weatherboard", "weatherboards", "feather edge", "feather edged",
		"lap siding", "lapped bevel", "lapped beveled", "bungalow", "plain bevel"}},
	{TongueGroove, []string{"tongue and groove", "tongue groove", "tongue", "t and g", "t g", "tg", "tandg", "matched", "center matched", "end matched", "drop siding"}},
	{BoardBatten, []string{"board and batten", "boards and battens", "board batten", "board and battens", "b and b", "board of board and batten"}},
	{Batten, []string{"batten", "battens", "cover strip", "cover strips"}},
	{Stile, []string{"stile", "stiles", "door stile", "door stiles", "hanging stile", "lock stile"}},
	{Rail, []string{"rail", "rails", "door rail", "door rails", "top rail", "bottom rail", "lock rail"}},
	{Panel, []string{"panel", "panels", "door panel", "door panels", "raised panel", "floating panel", "flat panel"}},
}

// Words lists the words of every kind but "not said", for help and hints.
func Words() map[Kind][]string {
	out := map[Kind][]string{}
	for _, w := range words {
		out[w.kind] = slices.Clone(w.words)
	}
	return out
}

// spell writes a text in small letters, with & and + as and, other marks as blanks.
func spell(text string) string {
	text = strings.NewReplacer("&", " and ", "+", " and ").Replace(strings.ToLower(text))
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool {
		return !('a' <= r && r <= 'z' || '0' <= r && r <= '9')
	}), " ")
}

// Parse reads the words of a sheet. ok is false when no kind is named, or two kinds are. Nothing written is not said, and ok.
func Parse(text string) (Kind, bool) {
	s := spell(text)
	if s == "" {
		return NotSaid, strings.TrimSpace(text) == ""
	}
	found := map[Kind]bool{}
	for s != "" {
		kind, longest := NotSaid, ""
		for _, w := range words {
			for _, word := range w.words {
				if len(word) > len(longest) && strings.Contains(" "+s+" ", " "+word+" ") {
					kind, longest = w.kind, word
				}
			}
		}
		if longest == "" {
			break
		}
		found[kind] = true
		at := strings.Index(" "+s+" ", " "+longest+" ")
		s = strings.Join(strings.Fields(s[:at]+" | "+s[min(len(s), at+len(longest)):]), " ")
	}
	if len(found) != 1 {
		return NotSaid, false
	}
	for k := range found {
		return k, true
	}
	return NotSaid, false
}

// Size is the widths of a profile. A width not given is 0.
type Size struct {
	Overall units.Length // with tongue or lap
	Shows   units.Length // face, or the exposure of beveled siding
	Joint   units.Length // lap or tongue; of a panel the depth of the groove on each side
}

// Shape is a profile with its widths worked out.
type Shape struct {
	Kind Kind
	Size
	// Usual says that the joint was not given and the usual one taken; Source is that of the usual one.
	Usual  bool
	Source source.Source
}

// ErrConflict says that face, lap and overall width don't fit each other.
type ErrConflict struct {
	Size
	Want units.Length // the overall width that face and lap come to; 0 when the face is wider than the whole
}

func (e ErrConflict) Error() string {
	if e.Want == 0 {
		return fmt.Sprintf("what shows, %s, is wider than the whole, %s", e.Shows, e.Overall)
	}
	return fmt.Sprintf("face %s and lap or tongue %s come to %s, not to the overall width %s", e.Shows, e.Joint, e.Want, e.Overall)
}

// usual is the joint taken when none is given: the printed one of the patterns of siding.
//
// Source: Western Wood Products Association, Natural Wood Siding, Table 4 (lap 1/2 in of rabbeted patterns, tongue 1/4 in, lap 1 in of
// bevel siding, which is also the least lap of US Navy builder training manual 14044); seen.
func usual(k Kind) (units.Length, source.Source) {
	from := source.Source{Document: "Western Wood Products Association, Natural Wood Siding", Place: "Table 4", Status: source.Seen}
	switch k {
	case Lapped:
		return units.Fraction(1, 2), from
	case TongueGroove:
		return units.Fraction(1, 4), from
	case Beveled:
		return LeastBevelLap, from
	}
	return 0, source.Source{}
}

// LeastBevelLap is the least lap of bevel siding. Source: US Navy builder training manual 14044; seen.
const LeastBevelLap = units.Inch

// Of works out a shape: overall = shows + joint of lapped, beveled and tongue-and-groove boards. Of two given widths the third follows;
// of one and the usual joint the others do. A square board shows all of its width unless the sheet says less. A panel is not worked out
// here: it needs play in its grooves.
//
// The error is an ErrConflict; then the shape keeps overall width and face as given, with the joint that is left between them.
func Of(k Kind, given Size) (Shape, error) {
	s := Shape{Kind: k, Size: given}
	if k == Panel {
		return s, nil
	}
	if given.Shows > 0 && given.Overall > 0 {
		left := given.Overall - given.Shows
		switch {
		case left < 0:
			s.Shows, s.Joint = given.Overall, 0
			return s, ErrConflict{Size: given}
		case !k.Joined():
			if left > 0 {
				s.Joint = left
			}
			return s, nil
		case given.Joint > 0 && given.Joint != left:
			s.Joint = left
			return s, ErrConflict{Size: given, Want: given.Shows + given.Joint}
		}
		s.Joint = left
		return s, nil
	}
	if !k.Joined() {
		if s.Overall == 0 {
			s.Overall = s.Shows
		}
		if s.Shows == 0 {
			s.Shows = s.Overall
		}
		return s, nil
	}
	if s.Joint == 0 {
		s.Joint, s.Source = usual(k)
		s.Usual = true
	}
	switch {
	case given.Overall > s.Joint:
		s.Shows = given.Overall - s.Joint
	case given.Shows > 0:
		s.Overall = given.Shows + s.Joint
	case given.Overall > 0:
		s.Shows = given.Overall
		return s, ErrConflict{Size: Size{Overall: given.Overall, Joint: s.Joint, Shows: given.Overall}, Want: given.Overall + s.Joint}
	}
	return s, nil
}
