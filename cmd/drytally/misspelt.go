package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"drytally/compute/slip"
)

// commands are the words a call may begin with, in the order of the help.
var commands = []string{"check", "blank", "verify", "season", "watch"}

// misspelt says what is wrong with a first word that is no command, no option and no file: with "chek week.xlsx" no papers are
// to be written. "" where the word may be a path.
func misspelt(word string) string {
	if word == "" || strings.HasPrefix(word, "-") || filepath.Base(word) != word || filepath.Ext(word) != "" {
		return ""
	}
	if _, err := os.Stat(word); !errors.Is(err, fs.ErrNotExist) {
		return ""
	}
	meant := ""
	if command := nearCommand(word); command != "" {
		meant = fmt.Sprintf("; did you mean drytally %s?", command)
	} else if _, err := os.Stat(word + ".xlsx"); err == nil {
		meant = fmt.Sprintf("; did you mean %q?", word+".xlsx")
	}
	return fmt.Sprintf("there is no file, folder or command %q%s\n    the commands are %s; without one, papers are made of the files named", word, meant, strings.Join(commands, ", "))
}

// nearCommand gives the command that a word differs from by two slips at the most, "" where none or several do.
func nearCommand(word string) string {
	const most = 2
	near, least := "", most+1
	for _, c := range commands {
		switch n := slip.Count(strings.ToLower(word), c); {
		case n < least:
			near, least = c, n
		case n == least:
			near = ""
		}
	}
	return near
}
