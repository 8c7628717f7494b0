package yearbook

import (
	"math/rand/v2"
	"testing"
)

// seasonOf draws loads of a kiln without any slow place of its own. In each load every part of the stack came out otherwise, now
// wetter, now drier: that is chance, however many boards lie in it.
func seasonOf(r *rand.Rand, loads int, chance float64, wet func(course, spot int) float64) []placed {
	const courses, spots = 9, 6
	var all []placed
	for load := range loads {
		var much [9]float64
		for i := range much {
			much[i] = chance * r.NormFloat64()
		}
		var mine []placed
		sum := 0.0
		for c := 1; c <= courses; c++ {
			for s := 1; s <= spots; s++ {
				if r.IntN(2) == 0 {
					continue
				}
				mc := 8 + 0.5*r.NormFloat64() + wet(c, s) + much[third(c, courses)*3+third(s, spots)]
				mine = append(mine, placed{load, c, s, courses, spots, mc})
				sum += mc
			}
		}
		for i := range mine {
			mine[i].apart -= sum / float64(len(mine))
		}
		all = append(all, mine...)
	}
	return all
}

func tested(all []placed, loads int) *Places {
	p := &Places{Parts: parts9(all), Loads: make([]string, loads)}
	p.test(all)
	return p
}

// TestPlacesClaimNothingFalse: of seasons of a kiln without a slow place no more than 5 in 100 have any part named.
func TestPlacesClaimNothingFalse(t *testing.T) {
	const seasons = 600
	for _, loads := range []int{3, 6, 20} {
		r := rand.New(rand.NewPCG(7, uint64(loads)))
		wrong := 0
		for range seasons {
			for _, part := range tested(seasonOf(r, loads, 0.8, func(int, int) float64 { return 0 }), loads).Parts {
				if part.Sure {
					wrong++
					break
				}
			}
		}
		t.Logf("%d loads: a part named in %d of %d seasons", loads, wrong, seasons)
		// 5 in 100 with three standard deviations of 600 draws: 30 + 16.
		if wrong > 46 {
			t.Errorf("%d loads: a part was named in %d of %d seasons of a kiln without one", loads, wrong, seasons)
		}
	}
}

// TestPlacesFindAWetCorner: a corner that is wetter in every load is found.
func TestPlacesFindAWetCorner(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	found := 0
	for range 100 {
		p := tested(seasonOf(r, 8, 0.3, func(c, s int) float64 {
			if c <= 3 && s >= 5 {
				return 1.5
			}
			return 0
		}), 8)
		if p.Parts[2].Name != "bottom right" {
			t.Fatalf("part 2 is %s", p.Parts[2].Name)
		}
		if p.Parts[2].Sure && p.Parts[2].Low > 0 {
			found++
		}
	}
	if found < 90 {
		t.Errorf("found in %d of 100 seasons of 8 loads, want 90 or more", found)
	}
}

// TestPlacesNeedThreeLoads: two loads say nothing of the kiln.
func TestPlacesNeedThreeLoads(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	p := tested(seasonOf(r, 2, 0.3, func(c, s int) float64 { return float64(10 * c) }), 2)
	if p.Tested != 0 {
		t.Errorf("%d parts tested on two loads", p.Tested)
	}
}

func TestThirds(t *testing.T) {
	for _, tt := range []struct {
		n    int
		want string
	}{{1, "0"}, {2, "02"}, {3, "012"}, {4, "0112"}, {5, "01112"}, {6, "001122"}, {10, "0001111222"}} {
		got := ""
		for i := 1; i <= tt.n; i++ {
			got += string(rune('0' + third(i, tt.n)))
		}
		if got != tt.want {
			t.Errorf("thirds of %d: got %s, want %s", tt.n, got, tt.want)
		}
	}
}
