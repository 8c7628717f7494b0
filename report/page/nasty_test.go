package page

import "strings"

// nasty are texts no sheet should hold and some do.
var nasty = []string{
	"",
	" ",
	"emoji \U0001F332\U0001F3FD and \U0001F468\u200D\U0001F469\u200D\U0001F467 end",
	"\u05E9\u05DC\u05D5\u05DD \u0645\u0631\u062D\u0628\u0627 right to left",
	strings.Repeat("W", 2000),
	strings.Repeat("1/2", 600),
	strings.Repeat("\u2070", 900),
	"bell\a null\x00 escape\x1b[31m tab\tback\b del\x7f",
	"\u0301\u0327\u20DD lone marks \u0301",
	"e\u0301 composes, x\u0302 does not",
	"bidi \u202Eover\u202C \u200Fmarks\u2069",
	"bad \xff\xfe\xc3 utf8",
	"private \uE000 \uF8FF nonchar \uFFFE\uFFFF",
	"\n\n\nlines\r\nand\rmore\u2028still\u2029\v\f",
	"(paren) \\back\\ \\(both\\) %%EOF endstream",
	"\u00A0\u202F\u2003spaces\u3000here\u200Bzero",
	"\u0E01\u0E34\u0E19 \u4E2D\u6587 \u0915\u094D\u0937",
	strings.Repeat("word ", 400),
	"11\u215C by 3\u20448 and \u2159",
	strings.Repeat("\u0301", 500),
}
