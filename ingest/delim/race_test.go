//go:build race

package delim

const raceDetector = true
