package air

import (
	"math"
	"testing"

	"drytally/compute/units"
	"drytally/testdata/published"
)

// TestAgainstPsychrometrics holds the humidity from two thermometers against a general psychrometrics library, whose figures
// stand in testdata/published with the command that made them. The library solves the energy balance of adiabatic saturation
// (the thermodynamic wet bulb); the formula used here is that of a ventilated psychrometer with the Weather Bureau's constant.
// The two are not the same thing: they part by up to 1.3 % RH at large depressions, and in equilibrium moisture content by up
// to 0.33 points, at 60 F and 40 F where the air is at the dry edge of the equation's range.
func TestAgainstPsychrometrics(t *testing.T) {
	_, rows := published.Table(t, "air_psychrometrics.csv")
	if len(rows) < 100 {
		t.Fatalf("%d rows", len(rows))
	}
	worst, worstEMC := 0.0, 0.0
	for _, r := range rows {
		dry, wet, want := units.Fahrenheit(number(t, r[0])), units.Fahrenheit(number(t, r[1])), number(t, r[2])
		got, err := HumidityFromWetBulb(dry, wet)
		if err != nil {
			t.Errorf("%s F and %s F: %v", r[0], r[1], err)
			continue
		}
		d := math.Abs(got.Percent() - want)
		worst = math.Max(worst, d)
		ours, err1 := WaterShare(dry, got)
		theirs, err2 := WaterShare(dry, units.RelativeHumidity(want))
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		e := 100 * math.Abs(ours-theirs)
		worstEMC = math.Max(worstEMC, e)
		if d > 1.35 || e > 0.35 {
			t.Errorf("%s F and %s F: %.2f %% RH, the library has %.2f; %.2f points of EMC apart", r[0], r[1], got.Percent(), want, e)
		}
	}
	t.Logf("largest difference %.2f %% RH and %.2f points of EMC over %d pairs", worst, worstEMC, len(rows))
}
