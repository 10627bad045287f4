package setup

import "testing"

func TestPrintable(t *testing.T) {
	for in, want := range map[string]string{
		"plain é 🛠":             "plain é 🛠",
		"a\tb\nc\r":             "a b c",
		"\x1b]0;title\a":        "]0;title",
		"abc\u202e\u2066\u200f": "abc",
		"\u009b31m":             "31m",
		"bad \xff":              "bad \ufffd",
	} {
		if got := Printable(in); got != want {
			t.Errorf("Printable(%q) = %q, want %q", in, got, want)
		}
	}
}
