package main
import ("os";"testing")
func TestGen(t *testing.T) {
	os.WriteFile("/tmp/reading/big.xlsx", season(t, 50000, 10), 0o644)
	os.WriteFile("/tmp/reading/mid.xlsx", season(t, 5000, 1), 0o644)
	os.WriteFile("/tmp/reading/mid10.xlsx", season(t, 5000, 10), 0o644)
}
