package main

import (
	"io"
	"testing"

	"drytally/ingest"
)

func BenchmarkWeek(b *testing.B) {
	to := b.TempDir()
	sets, err := ingest.Gather([]string{"../../testdata/weeks/two-loads.xlsx"})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if o := one(call{to: to, force: true}, sets[0], io.Discard, io.Discard); o.code > exitSetAside {
			b.Fatal(o.code)
		}
	}
}
