//go:build !race

package delim

const raceDetector = false
