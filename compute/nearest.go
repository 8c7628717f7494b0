package compute

import (
	"slices"
	"strings"
	"unicode/utf8"

	"drytally/compute/slip"
)

// mostSuggested is how many ids a hint names.
const mostSuggested = 3

// didYouMean gives "did you mean B12? " for an id that is one slip away from known ones, else "".
func didYouMean(id string, known []string) string {
	var near []string
	for _, k := range known {
		if oneSlip(key(id), key(k)) && !slices.Contains(near, k) {
			near = append(near, k)
		}
	}
	if len(near) == 0 || len(near) > mostSuggested {
		return ""
	}
	return "did you mean " + strings.Join(near, " or ") + "? else "
}

// likeDigits turns letters that are easily taken for digits into these.
var likeDigits = strings.NewReplacer("o", "0", "i", "1", "l", "1")

// oneSlip reports whether two folded ids differ by one letter typed wrong, left out or added, by two letters swapped, by
// zeros in front of the number, or by letters that look like digits.
func oneSlip(a, b string) bool {
	if a == b || a == "" || b == "" {
		return false
	}
	if likeDigits.Replace(a) == likeDigits.Replace(b) || withoutZeros(a) == withoutZeros(b) {
		return true
	}
	return max(utf8.RuneCountInString(a), utf8.RuneCountInString(b)) > 2 && slip.One(a, b) // of two letters, one slip is half of it
}

// withoutZeros drops the zeros in front of the first number: b07 is b7.
func withoutZeros(s string) string {
	i := strings.IndexAny(s, "0123456789")
	if i < 0 {
		return s
	}
	return s[:i] + strings.TrimLeft(s[i:], "0")
}

// nearestBoard is didYouMean for a board of a load, or of any load when none is named.
func (x *index) nearestBoard(load, id string) string {
	var known []string
	for i := range x.out.Boards {
		b := x.out.Boards[i].Board
		if load == "" || key(b.Load) == load || b.Load == "" {
			known = append(known, b.ID)
		}
	}
	return didYouMean(id, known)
}

// nearestLoad is didYouMean for a load.
func (x *index) nearestLoad(id string) string {
	var known []string
	for _, l := range x.job.Loads {
		known = append(known, l.ID)
	}
	return didYouMean(id, known)
}
