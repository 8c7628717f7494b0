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

// command is a word a call may begin with.
type command struct {
	name  string
	asked func(*call) *bool
}

// commands are the words a call may begin with, in the order of the help, and what of the call says that one was asked for.
var commands = []command{
	{"check", func(c *call) *bool { return &c.check }},
	{"blank", func(c *call) *bool { return &c.blank }},
	{"verify", func(c *call) *bool { return &c.verify }},
	{"season", func(c *call) *bool { return &c.season }},
	{"watch", func(c *call) *bool { return &c.watch }},
}

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
	var names []string
	for _, c := range commands {
		names = append(names, c.name)
	}
	return fmt.Sprintf("there is no file, folder or command %q%s\n    the commands are %s; without one, papers are made of the files named", word, meant, strings.Join(names, ", "))
}

// nearCommand gives the command that a word differs from by two slips at the most, "" where none or several do.
func nearCommand(word string) string {
	const most = 2
	near, least := "", most+1
	for _, c := range commands {
		switch n := slip.Count(strings.ToLower(word), c.name); {
		case n < least:
			near, least = c.name, n
		case n == least:
			near = ""
		}
	}
	return near
}
