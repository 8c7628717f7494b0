package wood

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"drytally/compute/slip"
	"drytally/compute/source"
)

//go:embed names.csv
var namesText string

type nameRow struct {
	Name    string `csv:"name"`
	Kind    string `csv:"kind"`
	Species string `csv:"species"`
	Others  string `csv:"others"`
	Status  string `csv:"status"`
}

// MatchKind says how well a written name settles which wood is meant.
type MatchKind uint8

// The kinds of matches. The zero value is "unknown".
const (
	Unknown   MatchKind = iota // no wood of the table; Nearest holds names written much alike
	Found                      // this wood and no other
	Taken                      // by custom this wood, but the name can mean Candidates too: say so
	Ambiguous                  // one of Candidates: ask
)

// String gives the word.
func (k MatchKind) String() string { return [...]string{"unknown", "found", "taken", "ambiguous"}[k] }

// Match is what a written name was understood as.
type Match struct {
	Kind       MatchKind
	Species    Species   // Found and Taken
	Candidates []Species // Ambiguous: all that may be meant; Taken: what else it can mean, possibly none
	Nearest    []string  // Unknown: names written much alike, the nearest first, at most three
	Alias      string    // what the owner's alias made of the name, empty when no alias applied
	// NameSource says where the meaning of an everyday name comes from; the zero Source when the table's own name matched.
	NameSource source.Source
}

// entry is one known name.
type entry struct {
	kind       MatchKind
	species    int // Found, Taken
	candidates []int
	everyday   bool
}

// index holds all known names by key. Built once from the two embedded tables.
type index struct {
	list    []Species
	entries map[string]entry
	names   []string // every name as the tables write it, for suggestions
	words   [][]string
	heads   []string        // the word a wood is called for short: "oak" of "white oak"
	known   map[string]bool // every word of every name
}

var loadIndex = sync.OnceValue(func() *index {
	x := &index{list: loadSpecies(), entries: map[string]entry{}, known: map[string]bool{}}
	at := map[string]int{}
	botanical := map[string][]int{}
	for i, s := range x.list {
		at[s.Name] = i
		plain, _, _ := strings.Cut(s.Name, " (")
		ws := words(s.Name)
		x.words = append(x.words, ws)
		short := words(plain)
		x.heads = append(x.heads, short[len(short)-1])
		x.add(s.Name, ws, entry{kind: Found, species: i})
		if run := strings.ReplaceAll(s.Name, "-", ""); run != s.Name {
			x.entries[key(words(run))] = entry{kind: Found, species: i}
		}
		if !s.Group {
			botanical[key(words(s.Botanical))] = append(botanical[key(words(s.Botanical))], i)
		}
	}
	for k, of := range botanical {
		if _, taken := x.entries[k]; taken {
			continue
		}
		if len(of) == 1 {
			x.entries[k] = entry{kind: Found, species: of[0]}
		} else {
			x.entries[k] = entry{kind: Ambiguous, candidates: of}
		}
	}
	rows := source.Must(source.Rows[nameRow](namesText))
	for _, r := range rows {
		e, err := r.entry(at)
		if err != nil {
			panic(fmt.Sprintf("wood: names.csv: %q: %v", r.Name, err))
		}
		x.add(r.Name, words(r.Name), e)
	}
	return x
})

// add enters a name. An everyday name replaces the table's own: "white oak" alone is the commercial group.
func (x *index) add(name string, ws []string, e entry) {
	if old, ok := x.entries[key(ws)]; ok && old.everyday == e.everyday {
		panic(fmt.Sprintf("wood: the name %q stands twice", name))
	}
	x.entries[key(ws)] = e
	if !slices.Contains(x.names, name) {
		x.names = append(x.names, name)
	}
	for _, w := range ws {
		x.known[w] = true
	}
}

func (r nameRow) entry(at map[string]int) (entry, error) {
	e := entry{everyday: true}
	list := func(s string) (of []int, err error) {
		for name := range strings.SplitSeq(s, ";") {
			i, ok := at[name]
			if !ok {
				return nil, fmt.Errorf("no species %q", name)
			}
			of = append(of, i)
		}
		return of, nil
	}
	of, err := list(r.Species)
	if err != nil {
		return e, err
	}
	if r.Others != "" {
		if e.candidates, err = list(r.Others); err != nil {
			return e, err
		}
	}
	switch {
	case r.Status != source.Memory.String():
		return e, fmt.Errorf("status %q is not memory", r.Status)
	case r.Kind == "same" && len(of) == 1 && r.Others == "":
		e.kind, e.species = Found, of[0]
	case r.Kind == "custom" && len(of) == 1:
		e.kind, e.species = Taken, of[0]
	case r.Kind == "several" && len(of) > 1 && r.Others == "":
		e.kind, e.candidates = Ambiguous, of
	default:
		return e, fmt.Errorf("kind %q does not fit its lists", r.Kind)
	}
	return e, nil
}

// Find says which wood a written name means. Case, spaces, hyphens, punctuation, plural and the order of words don't
// matter, and E. N. S. W. stand for eastern, northern, southern and western. aliases are the owner's own names, from his
// word to a name of the table or of the trade; they come first. Nothing is guessed: a name that could be two woods is
// Ambiguous, and one that custom settles is Taken, so that it can be said.
//
// "red oak" and "white oak" alone are the commercial groups, whose figures are means. A wood can be found and still have
// no shrinkage figures (Radial or Tangential 0): gray birch has no tangential one.
//
// Source of the everyday names: the trade; memory.
func Find(written string, aliases map[string]string) Match {
	x := loadIndex()
	k := key(words(written))
	if k == "" {
		return Match{}
	}
	// Two aliases can fold to one key; the first in order of spelling wins, so that the answer is always the same.
	owner := make([]string, 0, len(aliases))
	for a := range aliases {
		owner = append(owner, a)
	}
	slices.Sort(owner)
	for _, a := range owner {
		if key(words(a)) == k {
			m := x.find(aliases[a])
			m.Alias = aliases[a]
			return m
		}
	}
	return x.find(written)
}

func (x *index) find(written string) Match {
	// The table's exact spelling of a commercial group or variant comes through the same way as any other spelling.
	ws := words(written)
	for _, try := range [][]string{ws, joined(ws, x.known)} {
		if e, ok := x.entries[key(try)]; ok {
			return x.match(e)
		}
		if m := x.short(try); m.Kind != Unknown {
			return m
		}
	}
	return Match{Nearest: x.nearest(ws)}
}

func (x *index) match(e entry) Match {
	m := Match{Kind: e.kind}
	if e.kind == Found || e.kind == Taken {
		m.Species = x.list[e.species]
	}
	for _, i := range e.candidates {
		m.Candidates = append(m.Candidates, x.list[i])
	}
	if e.everyday {
		m.NameSource = source.Source{Document: "everyday names of the trade", Status: source.Memory}
	}
	return m
}

// short understands a name that leaves words out: "oak", "swamp oak", "catalpa". It must hold the word the wood is called
// for short. One wood is Taken, because other woods of that name stand in no table; several are Ambiguous.
func (x *index) short(ws []string) Match {
	var of []int
	for i := range x.list {
		if slices.Contains(ws, x.heads[i]) && contains(x.words[i], ws) {
			of = append(of, i)
		}
	}
	switch len(of) {
	case 0:
		return Match{}
	case 1:
		return x.match(entry{kind: Taken, species: of[0], everyday: true})
	}
	return x.match(entry{kind: Ambiguous, candidates: of})
}

// mostNearest is how many suggestions a message can carry.
const mostNearest = 3

// nearest gives the names written most like the words.
func (x *index) nearest(ws []string) []string {
	type near struct {
		name     string
		distance int
	}
	plain, sorted := strings.Join(ws, " "), key(ws)
	var list []near
	for _, name := range x.names {
		nw := words(name)
		d := min(slip.Count(plain, strings.Join(nw, " ")), slip.Count(sorted, key(nw)))
		if d <= (len(plain)+2)/4 { // one slip in about four letters
			list = append(list, near{name, d})
		}
	}
	slices.SortStableFunc(list, func(a, b near) int { return a.distance - b.distance })
	var out []string
	for _, n := range list[:min(len(list), mostNearest)] {
		out = append(out, n.name)
	}
	if len(out) > 0 {
		return out
	}
	// "qs red oak": suggest what the words we know would mean.
	var rest []string
	for _, w := range ws {
		if x.known[w] {
			rest = append(rest, w)
		}
	}
	if len(rest) == 0 || len(rest) == len(ws) {
		return nil
	}
	m := x.find(strings.Join(rest, " "))
	if m.Kind == Found || m.Kind == Taken {
		out = append(out, m.Species.Name)
	}
	for _, s := range m.Candidates {
		out = append(out, s.Name)
	}
	return out[:min(len(out), mostNearest)]
}
