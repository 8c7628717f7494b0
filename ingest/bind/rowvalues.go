package bind

import (
	"maps"
	"slices"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/finding"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/ingest/cell"
)

// value is what one cell says; which part counts follows from the field's quantity.
type value struct {
	text     string
	ids      []string
	lengths  []units.Length
	readings []units.Reading
	date     time.Time
	temp     units.Temperature
	rh       units.Humidity
	mc       units.MC
	number   float64 // share or area
	mass     units.Mass
	massUnit units.MassUnit
	count    int
	sawing   compute.Sawing
	species  wood.Species
	size     cell.SizeOf
	cutOut   cell.CutOut
	unread   bool // cutOut: something stands there that could not be read
	said     compute.Said
	where    string // readings: the place on the board that the heading names

	money       cell.MoneyOf
	moneyAt     finding.Place
	moneyStands string
}

// rowValues is one data row: its values and the column of each, by field name. A row has few fields: looking through them is
// quicker than a map, and needs no memory of its own.
type rowValues struct {
	origin compute.Origin
	shared bool            // origin.Table is that of all rows of the table; setCol copies it first
	names  []string        // field names in column order
	at     []value         // in the order of names
	bad    map[string]bool // cells that hold something that could not be read
	filled map[string]bool // fields left blank and taken from above
}

// value gives the value of a field; that of one the row does not have is empty.
func (v *rowValues) value(name string) *value {
	if i := slices.Index(v.names, name); i >= 0 {
		return &v.at[i]
	}
	return new(value)
}

// setCol says which column a field was read from.
func (v *rowValues) setCol(name string, col int) {
	if v.shared {
		own := *v.origin.Table
		own.Cols = maps.Clone(own.Cols)
		v.origin.Table, v.shared = &own, false
	}
	v.origin.Table.Cols[name] = col
}

func (v *rowValues) has(name string) bool             { return slices.Contains(v.names, name) }
func (v *rowValues) text(name string) string          { return v.value(name).text }
func (v *rowValues) date(name string) time.Time       { return v.value(name).date }
func (v *rowValues) count(name string) int            { return v.value(name).count }
func (v *rowValues) mass(name string) units.Mass      { return v.value(name).mass }
func (v *rowValues) mc(name string) units.MC          { return v.value(name).mc }
func (v *rowValues) species(name string) wood.Species { return v.value(name).species }
func (v *rowValues) sawing(name string) compute.Sawing {
	return v.value(name).sawing
}

func (v *rowValues) set(name string, val value) {
	if i := slices.Index(v.names, name); i >= 0 {
		v.at[i] = val
		return
	}
	v.at, v.names = append(v.at, val), append(v.names, name)
}

// only copies the row with some of its fields.
func (v *rowValues) only(names ...string) *rowValues {
	own := *v.origin.Table
	own.Cols = map[string]int{}
	c := &rowValues{origin: compute.Origin{Table: &own, Row: v.origin.Row}, bad: map[string]bool{}, filled: map[string]bool{}}
	for _, n := range names {
		if col, ok := v.origin.Cols()[n]; ok {
			own.Cols[n] = col
		}
		if v.bad[n] {
			c.bad[n] = true
		}
		if v.has(n) {
			c.set(n, *v.value(n))
		}
	}
	return c
}

// length gives the field's one length, or 0.
func (v *rowValues) length(name string) units.Length {
	if l := v.value(name).lengths; len(l) > 0 {
		return l[0]
	}
	return 0
}

// lengths gives all lengths of a field that may have several columns.
func (v *rowValues) lengths(name string) []units.Length {
	var all []units.Length
	for _, n := range v.names {
		if n == name || strings.HasPrefix(n, name+" ") && isDigits(n[len(name)+1:]) {
			all = append(all, v.value(n).lengths...)
		}
	}
	return all
}
