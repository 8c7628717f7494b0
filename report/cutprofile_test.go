package report

import (
	"strings"
	"testing"
	"time"

	"drytally/compute"
	"drytally/compute/profile"
	"drytally/compute/units"
	"drytally/compute/wood"
	"drytally/report/page"
)

// profileWeek wants one piece of every profile, a door and a wall with openings, in a place with a year.
func profileWeek(system units.System) *compute.Result {
	pine, _ := wood.ByName("eastern white pine")
	job := &compute.Job{Name: "profiles", Settings: compute.Defaults()}
	job.Settings.System = system
	add := func(w compute.Wanted) {
		w.Species, w.Origin, w.Sawing = pine, exampleOrigin("Wanted", 2+len(job.Wanted), "piece"), compute.Sawing{Kind: compute.FlatSawn}
		if w.Thickness == 0 {
			w.Thickness = inch(3, 4)
		}
		if w.Use == "" {
			w.Use = "exterior siding"
		}
		job.Wanted = append(job.Wanted, w)
	}
	wall := compute.Wanted{Length: 12 * units.Foot, WallHeight: 8 * units.Foot, WallRun: 20 * units.Foot, Openings: 21, Waste: 0.1}
	for _, p := range []struct {
		name, profile string
		width, face   units.Length
	}{{"shiplap wall", "shiplap", inch(29, 4), 0}, {"bevel wall", "beveled", inch(45, 4), 10 * units.Inch}, {"matched wall", "T&G", inch(43, 8), inch(41, 8)}, {"plain wall", "square", inch(37, 4), 0},
		{"upright boards", "board and batten", inch(37, 4), 0}} {
		w := wall
		w.Piece, w.Profile, w.Width, w.Face = p.name, p.profile, p.width, p.face
		if p.profile == "board and batten" {
			w.Gap = inch(1, 2)
		}
		add(w)
	}
	add(compute.Wanted{Piece: "cover strips", Profile: "batten", Width: inch(5, 2), Length: 8 * units.Foot})
	door := compute.Wanted{WallHeight: 30 * units.Inch, WallRun: inch(55, 4), Pieces: 2, Use: "interior furniture"}
	stile, rail, panel := door, door, door
	stile.Piece, stile.Profile, stile.Width = "door stile", "stile", inch(9, 4)
	rail.Piece, rail.Profile, rail.Width, rail.Joint = "door rail", "rail", inch(9, 4), inch(3, 8)
	panel.Piece, panel.Profile, panel.Joint, panel.Length, panel.Thickness = "door panel", "panel", inch(3, 8), 26*units.Inch, inch(1, 2)
	add(stile)
	add(rail)
	add(panel)
	for i, rh := range []float64{30, 45, 60} {
		m := time.Month(1 + 3*i)
		job.Climate = append(job.Climate, compute.Climate{Origin: exampleOrigin("Climate", 2+i, "month"), Month: m, Temp: units.Fahrenheit(68), Humidity: units.RelativeHumidity(rh), Indoors: true},
			compute.Climate{Origin: exampleOrigin("Climate", 12+i, "month"), Month: m, Temp: units.Fahrenheit(50), Humidity: units.RelativeHumidity(rh + 15)})
	}
	return compute.Assess(job)
}

func TestCutSheetDrawsProfiles(t *testing.T) {
	for _, system := range []units.System{units.InchFoot, units.Metric} {
		for _, paper := range []page.Paper{page.Letter, page.A4} {
			j := exampleJob(profileWeek(system))
			j.system = system
			text, _ := recorded(t, j, paper, j.drawCutSheet)
			text = inOne(text)
			if system == units.Metric {
				continue
			}
			for _, want := range []string{"The pieces in use", "two pieces joined, end on", "three courses on the wall", "two boards and their joint", "panel in its grooves",
				`shows 6 3/4"`, `over all 7 1/4"`, `gap 1/2", batten laps 1"`, `10 courses of 9 19/32" fill the height of 96"`, "160.0 square feet less 21.0 of openings, 139.0 in all: 2.34 running feet and 1.17 board feet",
				"is nominal 1 x 10, least dressed size", "Even courses and the least lap of 1 in", "Cut to 10", "The panel floats", "24 battens cover the joints"} {
				if !strings.Contains(text, want) {
					t.Errorf("paper %d: the cut sheet does not say %q", paper, want)
				}
			}
		}
	}
}

// TestProfileOutlines: the wood of a shiplap or tongue-and-groove piece is that of a board as wide as its face, and the next piece fits into it.
func TestProfileOutlines(t *testing.T) {
	for _, kind := range []profile.Kind{profile.Lapped, profile.TongueGroove} {
		shape, err := profile.Of(kind, profile.Size{Overall: 140 * units.Millimetre, Joint: 10 * units.Millimetre})
		if err != nil {
			t.Fatal(err)
		}
		o, ok := profileOutline(shape, 18)
		if !ok || o.at != 130 {
			t.Fatalf("%v: at %g", kind, o.at)
		}
		area := 0.0
		for i, p := range o.pts {
			q := o.pts[(i+1)%len(o.pts)]
			area += (p.X*q.Y - q.X*p.Y) / 2
		}
		if want := 130.0 * 18; area < want-1e-9 || area > want+1e-9 {
			t.Errorf("%v: the outline holds %g mm2, want %g", kind, area, want)
		}
	}
	if _, ok := profileOutline(profile.Shape{Kind: profile.Lapped}, 18); ok {
		t.Error("a piece without sizes is drawn")
	}
}

// TestCutSheetSaysSpreadAndNeighbours: where the spread comes from and which settings one could do for stand on the sheet.
func TestCutSheetSaysSpreadAndNeighbours(t *testing.T) {
	r := exampleResult()
	r.SawSpread = compute.SawSpread{Used: inch(25, 1000), From: compute.SpreadBoards, Boards: 8, Readings: 32, Says: said("saw-spread-own", "set", "false", "used", `0.025"`, "boards", "8", "readings", "32",
		"groups", "2", "within", `0.016"`, "between", `0.022"`, "total", `0.025"`, "high", `0.046"`, "out", "1", "source", "EM 8731")}
	r.OneSetting = []compute.OneSetting{{Says: said("one-setting", "pieces", "floor board and shelf", "at", `1 1/16" x 6 1/4"`, "both", "true", "width", "true", "more", "6.2 %")}}
	j := exampleJob(r)
	text, _ := recorded(t, j, page.Letter, j.drawCutSheet)
	text = inOne(text)
	for _, want := range []string{`counted in: 0.025", from 8 of your own boards measured green (32 thicknesses)`, "2 settings kept apart", `no more than 0.046"`, "1 more board was left out",
		`floor board and shelf could be sawn at one setting, 1 1/16" x 6 1/4"`} {
		if !strings.Contains(text, want) {
			t.Errorf("the cut sheet does not say %q", want)
		}
	}
}
