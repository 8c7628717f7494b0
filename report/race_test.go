//go:build race

package report

const raceDetector = true
