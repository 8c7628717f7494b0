package report

import (
	"slices"
	"strings"
	"time"

	"drytally/compute"
	"drytally/compute/units"
)

// lengths makes the columns of a length: decimal inches and the fraction the trade writes, or millimetres.
func lengths[T any](j *job, head, field string, get func(T) units.Length) []column[T] {
	if j.system == units.Metric {
		return []column[T]{{head: head + " (mm)", width: 11, field: field, cell: func(v T) any {
			if l := get(v); l != 0 {
				return bookMM(l)
			}
			return nil
		}}}
	}
	return []column[T]{
		{head: head + " (in)", width: 10, field: field, cell: func(v T) any {
			if l := get(v); l != 0 {
				return bookInches(l)
			}
			return nil
		}},
		{head: head + " (fraction)", width: 10, cell: func(v T) any {
			if l := get(v); l != 0 && l%(units.Inch/64) == 0 { // a computed size is none; its decimals stand beside
				return l.Trade()
			}
			return nil
		}},
	}
}

// runs makes the columns of a board length: decimal inches with feet and inches in words, or millimetres.
func runs[T any](j *job, head, field string, get func(T) units.Length) []column[T] {
	if j.system == units.Metric {
		return lengths(j, head, field, get)
	}
	return []column[T]{
		{head: head + " (in)", width: 10, field: field, cell: func(v T) any {
			if l := get(v); l != 0 {
				return bookInches(l)
			}
			return nil
		}},
		{head: head + " (feet and inches)", width: 11, cell: func(v T) any {
			if l := get(v); l != 0 {
				return l.FeetInches()
			}
			return nil
		}},
	}
}

// ranges makes the columns of a predicted size: about, from, to.
func ranges[T any](j *job, head string, get func(T) units.LengthRange) []column[T] {
	return slices.Concat(
		lengths(j, head+", about", "", func(v T) units.Length { return get(v).Value }),
		lengths(j, head+", from", "", func(v T) units.Length { return get(v).Low }),
		lengths(j, head+", to", "", func(v T) units.Length { return get(v).High }))
}

// Values that leave their cell empty when there is nothing to say.

func mcCell(m units.MC) any {
	if m == 0 {
		return nil
	}
	return m
}

func countCell(n int) any {
	if n == 0 {
		return nil
	}
	return n
}

func decimalCell(x float64) any {
	if x == 0 {
		return nil
	}
	return bookDecimal(x)
}

func dayCell(t time.Time) any {
	if t.IsZero() {
		return nil
	}
	if t.Hour() != 0 || t.Minute() != 0 || t.Second() != 0 {
		return bookMoment(t)
	}
	return bookDay(t)
}

func footageCell(f compute.Footage) any {
	if !f.Known {
		return nil
	}
	return bookDecimal(float64(f.Hundredths) / 100)
}

func ruleCell(f compute.Footage) any {
	if !f.Known {
		return nil
	}
	return jsRule(f.Rule)
}

// sentence writes one statement, if there is one.
func (j *job) sentence(s compute.Statement) any {
	if s.Name == "" {
		return nil
	}
	return bookProse(j.say(s))
}

// sentences joins statements, one to a line.
func (j *job) sentences(all []compute.Statement) any {
	var lines []string
	for _, s := range all {
		lines = append(lines, j.say(s))
	}
	return bookProse(strings.Join(lines, "\n"))
}

// temperatureColumn gives a temperature in the owner's measure.
func temperatureColumn[T any](j *job, head string, get func(T) units.Temperature) column[T] {
	unit := " (F)"
	if j.system == units.Metric {
		unit = " (C)"
	}
	return column[T]{head: head + unit, width: 12, cell: func(v T) any {
		t := get(v)
		switch {
		case !t.Known():
			return nil
		case j.system == units.Metric:
			return bookDecimal(t.Celsius())
		}
		return bookDecimal(t.Fahrenheit())
	}}
}
