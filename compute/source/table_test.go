package source

import (
	"strings"
	"testing"
)

func TestRows(t *testing.T) {
	type row struct {
		Name   string `csv:"name"`
		Figure string `csv:"figure"`
	}
	got, err := Rows[row]("# a note\nname,figure\nred oak,\"4,0\"\nash,\n")
	if err != nil || len(got) != 2 || got[0] != (row{"red oak", "4,0"}) || got[1] != (row{Name: "ash"}) {
		t.Errorf("got %v, %v", got, err)
	}
	for name, text := range map[string]string{
		"empty": "", "misspelt column": "name,figrue\nash,1\n", "missing column": "name\nash\n", "other order": "figure,name\n1,ash\n",
		"more columns": "name,figure,note\nash,1,x\n", "short row": "name,figure\nash\n",
	} {
		if got, err := Rows[row](text); err == nil {
			t.Errorf("%s: got %v and no error", name, got)
		}
	}
}

func TestMustPanics(t *testing.T) {
	defer func() {
		if said, _ := recover().(string); !strings.Contains(said, "damaged") {
			t.Errorf("got %q", said)
		}
	}()
	Must(Rows[struct {
		A string `csv:"a"`
	}](""))
}

func TestParseStatus(t *testing.T) {
	for s := NotSaid; s <= CommonPractice; s++ {
		if got := ParseStatus(s.String()); got != s {
			t.Errorf("%v: got %v", s, got)
		}
	}
	for _, word := range []string{"", "rumor", Owner.String(), OurChoice.String()} {
		if got := ParseStatus(word); got != NotSaid {
			t.Errorf("%q: got %v", word, got)
		}
	}
}
