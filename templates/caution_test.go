package templates

import (
	"strings"
	"testing"
)

// The papers a caution can stand on.
var papers = []string{"certificate", "statement", "tag", "cut", "kiln", "trailer"}

func TestCautionsAreWellFormed(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, paper := range papers {
		for _, c := range Cautions(paper) {
			if k := c.ID + " " + paper + " " + c.When; seen[k] {
				t.Errorf("caution %s stands twice on the %s", c.ID, paper)
			} else {
				seen[k] = true
			}
			if len(c.ID) < 3 || c.ID[0] != 'C' || strings.Trim(c.ID[1:], "0123456789") != "" {
				t.Errorf("caution %q: got this number, want C and two or three digits", c.ID)
			}
			if c.Text == "" || !strings.HasSuffix(c.Text, ".") {
				t.Errorf("caution %s: the text %q is no sentence", c.ID, c.Text)
			}
			if c.Source == "" {
				t.Errorf("caution %s on the %s names no source", c.ID, paper)
			}
			c.For([]Wood{{Name: "white oak", Hardwood: true}}, []string{"flooring"}) // panics on a condition not known
		}
	}
	for _, b := range blocks(cautionsText) {
		_, rest, _ := strings.Cut(b.name, ":")
		list, _, _ := strings.Cut(rest, ";")
		for _, p := range strings.Fields(list) {
			if !hasWord(papers, p) {
				t.Errorf("caution %q: %q is no paper", b.name, p)
			}
		}
	}
}

// TestCautionsThatMustStand holds what no paper may go out without.
func TestCautionsThatMustStand(t *testing.T) {
	t.Parallel()
	oak, pine, walnut := Wood{"white oak", true}, Wood{"eastern white pine", false}, Wood{"black walnut", true}
	tests := []struct {
		name, paper string
		woods       []Wood
		uses        []string
		want, never string
	}{
		{"certificate of oak", "certificate", []Wood{oak}, nil, "C01 C05 C06 C08 C10 C36 C40 C41 C60 C61 C62", "C07 C106"},
		{"certificate of pine", "certificate", []Wood{pine}, nil, "C01 C05 C06 C61 C62", "C08 C60"},
		{"statement of oak", "statement", []Wood{oak}, nil, "C01 C06 C08 C10 C14 C20 C21 C24 C31 C32 C33 C34 C36 C40 C42 C43 C44 C46 C47 C49 C60", "C30 C35 C105 C106"},
		{"statement of pine", "statement", []Wood{pine}, nil, "C07 C30 C35", "C08 C32 C60 C106"},
		{"statement of siding", "statement", []Wood{pine}, []string{"exterior siding"}, "C07 C30 C34 C35 C36", "C31"},
		{"statement of walnut", "statement", []Wood{oak, walnut}, nil, "C106", ""},
		{"statement of maple for bowls", "statement", []Wood{{"sugar maple", true}}, []string{"Bowls"}, "C105", ""},
		{"statement of no known wood", "statement", nil, nil, "C01 C06 C10", "C07 C08 C106"},
		{"cut sheet", "cut", []Wood{oak}, nil, "C81 C82 C84 C86 C87 C90 C93 C104", "C106"},
		{"cut sheet of walnut", "cut", []Wood{walnut}, nil, "C90 C93 C106", ""},
		{"kiln loading", "kiln", []Wood{pine}, nil, "C75 C76 C77 C78 C90 C91 C92 C93", "C94 C104"},
		{"trailer", "trailer", nil, nil, "C93 C94", "C90"},
		{"tag", "tag", []Wood{oak}, nil, "C06 C36 C62 C93", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got := map[string]bool{}
			for _, c := range Cautions(tt.paper) {
				got[c.ID] = got[c.ID] || c.For(tt.woods, tt.uses)
			}
			for _, id := range strings.Fields(tt.want) {
				if !got[id] {
					t.Errorf("%s with %v: got no caution %s, want it", tt.paper, tt.woods, id)
				}
			}
			for _, id := range strings.Fields(tt.never) {
				if got[id] {
					t.Errorf("%s with %v: got caution %s, want none", tt.paper, tt.woods, id)
				}
			}
		})
	}
}

func TestCautionConditionNotKnown(t *testing.T) {
	t.Parallel()
	defer func() {
		if recover() == nil {
			t.Error("a condition that is not known: got no panic, want one")
		}
	}()
	Caution{ID: "C99", Text: "x.", When: "weather rainy"}.For(nil, nil)
}
