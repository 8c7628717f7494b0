// Package write puts the papers of a workbook into their folder: all of them, or none.
package write

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"unicode"

	"golang.org/x/text/cases"
	"golang.org/x/text/unicode/norm"
)

// mostBytes is how long a safe name may be, in bytes: folder, prefix and extension must still fit the 255 that common
// file systems allow, and the whole path the 260 of older Windows programs.
const mostBytes = 60

// nameless stands for an id of which nothing is left.
const nameless = "unnamed"

// SafeName makes an id safe to be part of a file name on Linux, macOS and Windows: letters, digits and -_.,+()=@#&'! stay,
// everything else becomes a hyphen; dots and hyphens go from both ends; a name Windows keeps for devices gets an underscore;
// a long one is cut and ends in a mark made of the whole id. The result is never empty, is in NFC, and depends on the id
// alone. Two ids can come out alike: Namer keeps them apart.
func SafeName(id string) string {
	var b strings.Builder
	hyphen := false
	for _, r := range norm.NFC.String(id) {
		switch {
		case r == unicode.ReplacementChar:
			hyphen = true
		case unicode.In(r, unicode.L, unicode.N, unicode.M), strings.ContainsRune("_.,+()=@#&'!", r):
			if hyphen && b.Len() > 0 {
				b.WriteByte('-')
			}
			hyphen = false
			b.WriteRune(r)
		case unicode.In(r, unicode.Cf):
		default:
			hyphen = true
		}
	}
	name := strings.Trim(b.String(), ".- ")
	if name == "" {
		return nameless
	}
	if len(name) > mostBytes {
		sum := sha256.Sum256([]byte(id))
		end := "-" + hex.EncodeToString(sum[:4])
		cut := mostBytes - len(end)
		for cut > 0 && name[cut]&0xC0 == 0x80 { // not within a character
			cut--
		}
		name = strings.TrimRight(name[:cut], ".- ") + end
	}
	if deviceName(name) {
		name += "_"
	}
	return name
}

// deviceName reports whether Windows takes a name for a device, whatever its case and extension.
// Source: Microsoft, Naming Files, Paths, and Namespaces; from memory.
func deviceName(name string) bool {
	stem, _, _ := strings.Cut(strings.ToUpper(name), ".")
	switch stem = strings.TrimRight(stem, " "); stem {
	case "CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$":
		return true
	}
	port, ok := strings.CutPrefix(stem, "COM")
	if !ok {
		port, ok = strings.CutPrefix(stem, "LPT")
	}
	return ok && len([]rune(port)) == 1 && strings.ContainsAny(port, "0123456789\u00B9\u00B2\u00B3")
}

// Namer gives every id a file name of its own, also where upper and lower case are one. The zero value is ready. Ask in the
// order of the sheet: among ids that come out alike the first keeps the plain name, the others get -2, -3 ...
type Namer struct {
	given map[[3]string]string
	taken map[string]bool
}

// Name gives the file name prefix + safe id + extension. The same three always get the same name.
func (n *Namer) Name(prefix, id, extension string) string {
	if n.given == nil {
		n.given, n.taken = map[[3]string]string{}, map[string]bool{}
	}
	key := [3]string{prefix, id, extension}
	if name, ok := n.given[key]; ok {
		return name
	}
	safe := SafeName(id)
	name := prefix + safe + extension
	for i := 2; n.taken[fold(name)]; i++ {
		name = fmt.Sprintf("%s%s-%d%s", prefix, safe, i, extension)
	}
	n.given[key] = name
	n.taken[fold(name)] = true
	return name
}

// fold makes names equal that a file system may take for one.
func fold(name string) string { return norm.NFC.String(cases.Fold().String(norm.NFC.String(name))) }
