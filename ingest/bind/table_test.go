package bind

import (
	"slices"
	"strings"
	"testing"
)

func TestHeadingsAreInTheFormOfTheTable(t *testing.T) {
	for _, table := range Tables {
		for _, f := range table.Fields {
			for _, h := range f.Headings {
				if got := strings.Join(headingFields(h), " "); got != h {
					t.Errorf("%s, %s: the heading %q is never met: people's headings come as %q", table.Kind, f.Name, h, got)
				}
			}
		}
	}
	for _, s := range SettingRows {
		for _, h := range s.Headings {
			if got := strings.Join(headingFields(h), " "); got != h {
				t.Errorf("setting %s: the name %q is never met: people's names come as %q", s.Name, h, got)
			}
		}
	}
}

func TestNoHeadingMeansTwoFields(t *testing.T) {
	for _, table := range Tables {
		seen := map[string]string{}
		for _, f := range table.Fields {
			for _, h := range f.Headings {
				if old, ok := seen[h]; ok && old != f.Name {
					t.Errorf("%s: the heading %q means %s and %s", table.Kind, h, old, f.Name)
				} else if ok {
					t.Errorf("%s, %s: the heading %q stands twice", table.Kind, f.Name, h)
				}
				seen[h] = f.Name
			}
		}
	}
	seen := map[string]string{}
	for _, s := range SettingRows {
		for _, h := range s.Headings {
			if old, ok := seen[h]; ok {
				t.Errorf("the name %q means the settings %s and %s", h, old, s.Name)
			}
			seen[h] = s.Name
		}
	}
}

func TestTablesNameTheirFields(t *testing.T) {
	for _, table := range Tables {
		names := slices.Clone(table.Tells)
		for _, group := range table.Needs {
			names = append(names, group...)
		}
		for _, f := range table.Fields {
			if f.Within != "" {
				names = append(names, f.Within)
			}
			if f.Means == "" || len(f.Headings) == 0 {
				t.Errorf("%s, %s: no meaning or no headings", table.Kind, f.Name)
			}
		}
		for _, n := range names {
			if table.field(n) < 0 {
				t.Errorf("%s: no field is called %q", table.Kind, n)
			}
		}
	}
}
