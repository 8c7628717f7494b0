package bind

import (
	"slices"
	"strings"

	"drytally/compute"
)

// boardPlaces are the words for a place on or in a board that people put into the heading of a column of readings.
var boardPlaces = []string{"end", "ends", "middle", "mid", "center", "centre", "face", "shell", "surface", "core", "edge", "butt", "top", "tip",
	"bottom", "left", "right", "near", "far", "one", "other", "inside", "outside", "deep", "shallow", "skin", "first", "second", "both", "wide"}

// tellingPlaces are those that stand above a column of readings and hardly above anything else.
var tellingPlaces = []string{"shell", "core", "surface", "middle", "mid", "center", "centre", "end", "butt", "face", "edge", "tip", "skin"}

func (t *Table) hasReadings() bool {
	return t.Kind == compute.KindReadings || t.Kind == compute.KindBoards
}

// placeOfReading takes a heading such as "reading core", "mc at far end" or, when alone is set, "core", and gives the place
// it names.
func placeOfReading(words string, alone bool) (where string, ok bool) {
	var places, rest []string
	for _, w := range strings.Fields(words) {
		switch {
		case slices.Contains(boardPlaces, w):
			places = append(places, w)
		case w == "at" || w == "in" || w == "on":
		default:
			rest = append(rest, w)
		}
	}
	if len(places) == 0 {
		return "", false
	}
	where = strings.Join(places, " ")
	if len(rest) == 0 {
		return where, alone && slices.ContainsFunc(places, func(p string) bool { return slices.Contains(tellingPlaces, p) })
	}
	return where, slices.Contains(readingHeadings, strings.Join(rest, " "))
}

// placesAlone reports whether headings that are nothing but places on a board (core, shell, end) are columns of readings:
// the sheet or title speaks of readings, or another column is headed so, or shell and core both stand there.
func placesAlone(heads []heading, titled bool) bool {
	n := 0
	shell, core, reading := false, false, false
	for _, h := range heads {
		w := h.both.words
		if _, ok := placeOfReading(w, true); ok {
			n++
			shell = shell || w == "shell" || w == "face" || w == "surface"
			core = core || w == "core"
		}
		reading = reading || slices.Contains(readingHeadings, w)
	}
	return n > 0 && (titled || reading && n > 0 || shell && core)
}

// thicknessAt reports whether a heading names a thickness and a place on the board: "thickness left", "thk far end".
func thicknessAt(words string, headings []string) bool {
	var rest []string
	for _, w := range strings.Fields(words) {
		if !slices.Contains(boardPlaces, w) && w != "at" && w != "in" && w != "on" {
			rest = append(rest, w)
		}
	}
	return len(rest) > 0 && slices.Contains(headings, strings.Join(rest, " "))
}

// settlePlace takes "place" and "position" beside a board's number, without a course, as the place on the board that was read:
// a place in the stack needs both.
func settlePlace(r *region) {
	where := r.table.field("where")
	if r.table.Kind != compute.KindReadings || where < 0 {
		return
	}
	spot, board := -1, false
	for i, c := range r.cols {
		switch c.name {
		case "course", "where":
			return
		case "board":
			board = true
		case "spot":
			if words, _ := headingWords(c.heading); words == "place" || words == "position" || words == "pos" {
				spot = i
			}
		}
	}
	if board && spot >= 0 {
		r.cols[spot].field, r.cols[spot].name = where, "where"
	}
}
