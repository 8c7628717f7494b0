package bind

import (
	"fmt"
	"strings"

	"drytally/compute"
)

// filledWoods is what is known of the woods of rows that took one load from above.
type filledWoods struct {
	own    string      // of the row in which the load is written
	others []otherWood // of rows below that are of another wood than the load
}

// otherWood is a run of rows of one wood.
type otherWood struct {
	first, last int
	wood, of    string // of is the wood of the load
}

// noteWood holds the wood of a row whose load was filled from above against that of the load.
func (b *binder) noteWood(v *rowValues, above map[int]*carried) {
	wood := v.species("species").Name
	up := above[v.origin.Cols()["load"]]
	if wood == "" || up == nil || up.name != "load" {
		return
	}
	if !v.filled["load"] {
		if up.row == v.origin.Row {
			up.woods.own = wood
		}
		return
	}
	of := b.woodOfLoad(up.value.text)
	if of == "" {
		of = up.woods.own
	}
	if of == "" || alikeWoods(of, wood) {
		return
	}
	if n := len(up.woods.others); n > 0 && up.woods.others[n-1].wood == wood {
		up.woods.others[n-1].last = v.origin.Row
		return
	}
	up.woods.others = append(up.woods.others, otherWood{v.origin.Row, v.origin.Row, wood, of})
}

// woodOfLoad gives the wood the loads sheet names for a load; "" when it names none.
func (b *binder) woodOfLoad(id string) string {
	for i := range b.job.Loads {
		if l := &b.job.Loads[i]; compute.SameID(l.ID, id) {
			return l.Species.Name
		}
	}
	return ""
}

// alikeWoods reports whether one of two woods may be the other written shorter: a commercial group and a species of it.
func alikeWoods(a, b string) bool {
	a, _, _ = strings.Cut(a, " (")
	b, _, _ = strings.Cut(b, " (")
	return strings.Contains(a, b) || strings.Contains(b, a)
}

// sayFilledOver warns of a load that was filled down over rows of another wood. It reports whether there was anything to warn of.
func (b *binder) sayFilledOver(col int, k *carried) bool {
	const most = 3 // runs of rows named
	var runs []string
	for i, o := range k.woods.others {
		if i == most {
			runs = append(runs, "more below")
			break
		}
		run := fmt.Sprintf("rows %d to %d are %s", o.first, o.last, o.wood)
		if o.first == o.last {
			run = fmt.Sprintf("row %d is %s", o.first, o.wood)
		}
		runs = append(runs, run)
	}
	if len(runs) == 0 {
		return false
	}
	b.say("T068", b.at(k.woods.others[0].first, col), "", "write the load beside these rows; nothing to do if that is what was meant",
		"%s was left blank from row %d to row %d and taken from row %d: %s; %s, and that load is %s", k.name, k.said, k.until, k.row, k.from, strings.Join(runs, "; "), k.woods.others[0].of)
	return true
}
