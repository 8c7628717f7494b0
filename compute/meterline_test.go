package compute

import "testing"

// TestCheckedMeterIsOffByLess: six boards whose sections agree with the meter to a tenth leave it off by far less than the
// 1 point of a meter nobody checked, and the ranges follow.
func TestCheckedMeterIsOffByLess(t *testing.T) {
	read := []float64{6.5, 7.2, 8.1, 8.8, 9.4, 10.2, 8.6, 8.3}
	plain := Assess(ovened(read)).Loads[0]
	checked := Assess(ovened(read, 6.6, 7.1, 8.2, 8.8, 9.3, 10.3)).Loads[0]
	if plain.MeterOff != 100 || checked.MeterOff >= 50 || checked.MeterOff <= 0 {
		t.Errorf("off by %s unchecked and %s checked; want 1.0 and less than half of it", plain.MeterOff, checked.MeterOff)
	}
	if a, b := plain.Mean.High-plain.Mean.Low, checked.Mean.High-checked.Mean.Low; b >= a {
		t.Errorf("the mean's range is %s points unchecked and %s checked", a, b)
	}
	if _, ok := has(checked.Notes, "meter-off-line"); !ok {
		t.Errorf("the notes don't say that the meter was checked: %v", checked.Notes)
	}
}
