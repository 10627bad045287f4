package setup

import (
	"strings"
	"unicode"
)

// Printable returns s fit for a terminal and a message: control characters (line breaks and escape
// sequences among them) and the marks that turn the direction of writing are taken out or, where
// they stand for space, made a space.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t', r == '\n', r == '\u2028', r == '\u2029':
			return ' '
		case unicode.IsControl(r), r == '\ufeff', isDirectionMark(r):
			return -1
		}
		return r
	}, s)
}

// isDirectionMark reports the characters of Unicode's bidirectional algorithm that are invisible
// and change the order in which their neighbours are shown.
func isDirectionMark(r rune) bool {
	return r == '\u061c' || r == '\u200e' || r == '\u200f' || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069'
}
