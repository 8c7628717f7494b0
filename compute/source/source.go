// Package source names where a figure comes from and how well it is known. Every table row, formula and default of the
// program carries one, and the papers print it.
package source

// Status says how a figure is known. The zero value is "not said", which no printed figure may have.
type Status uint8

// The statuses, from the best known to the least.
const (
	NotSaid        Status = iota
	Seen                  // read in a stored copy of the named document
	SecondHand            // read in a text that quotes the named document
	Derived               // our arithmetic from figures that were seen
	Memory                // recalled, not read: verify before relying on it
	CommonPractice        // a fact of the trade, no source
	Owner                 // the owner's own figure, from the workbook
	OurChoice             // a default this project chose; the owner's setting overrides it
)

// String gives the words printed beside a figure.
func (s Status) String() string {
	switch s {
	case Seen:
		return "seen"
	case SecondHand:
		return "second hand"
	case Derived:
		return "derived"
	case Memory:
		return "memory"
	case CommonPractice:
		return "common practice, no source"
	case Owner:
		return "owner's figure"
	case OurChoice:
		return "default of this program"
	}
	return "status not said"
}

// Source is a document, the place in it, and the status.
type Source struct {
	Document string // document and year, such as "Wood Handbook FPL-GTR-190 (2010)"
	Place    string // table, equation or page
	Status   Status
}

// String writes document, place and status on one line.
func (s Source) String() string {
	t := s.Document
	if s.Place != "" {
		t += ", " + s.Place
	}
	return t + " (" + s.Status.String() + ")"
}
