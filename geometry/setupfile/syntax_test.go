package setupfile

import (
	"errors"
	"strings"
	"testing"

	"locksweep/geometry/setup"
)

func TestSyntaxErrorsInPlainWords(t *testing.T) {
	checkFaulty(t, least, []faulty{
		{"= 1000", "= 1040 mm", "4:18: ", "drop the unit"},
		{"= 1000", "= 1040mm", "4:17: ", "drop the unit"},
		{"= 1000", `= 41"`, "4:15: ", "drop the unit"},
		{"= 1000", "= 1040,5", "4:17: ", "decimals take a point"},
		{"= 1000", "= 3/8", "4:14: ", "3/8 is 0.375"},
		{"= 1000", "= .5", "4:13: ", "0.5"},
		{"= 1000", "= 5.", "4:15: ", "12 or 12.5"},
		{"= 1000", "= 0100", "4:13: ", "leading zero"},
		{"= 1000", "=", "4:12: ", "the value is missing"},
		{"= 1000", "= wide", "4:13: ", "text stands in quotes"},
		{"= 1000", "1000", "4:11: ", "= is missing"},
		{"= 1000", `= "1000`, "4:18: ", "without its closing quote"},
		{"[vehicle]", "[vehicle", "3:9: ", "bracket of the heading"},
		{`"mm"`, "in", "2:9: ", "text stands in quotes"},
		{"= 600", "= 23 5/8", "6:14: ", "write the fraction as a decimal: 23 5/8 is 23.625"},
		{"= 600", "= 5/16", "6:12: ", "5/16 is 0.3125"},
		{"= 600", "= 23-5/8", "6:13: ", "23-5/8 is 23.625"},
		{"[-95, -30, 0]", "[-3 3/4, -1, 0]", "12:14: ", "-3 3/4 is -3.75"},
		{"[-95, -30, 0]", "[-95, -30, 1/2]", "12:22: ", "1/2 is 0.5"},
		{"= 35", "= 35°", "15:10: ", "write 35 without the sign: angles are in degrees"},
		{"[-95, -30, 0]", "[-95, 3.5″, 0]", "12:19: ", "write 3.5 without the sign"},
		{"= 600", `= "23 5/8"`, "6:11: kingpin.spacing", "is text, should be a number: write 23.625, without quotes"},
		{"= 600", "= 1/0", "6:12: ", "write the fraction as a decimal: 3/8 is 0.375"},
		{"[-95, -30, 0]", "[-95, -30 0]", "12:20: ", "a comma or the closing bracket is missing"},
		{"[-95, -30, 0]", "[-95, -30, 0", "12:1: ", "a bracket opened here is never closed"},
		{"[-95, -30, 0]", "[-95,, 0]", "12:15: ", "a value cannot begin like this"},
		{`"mm"`, "“mm”", "2:9: ", "is a quote as word processors set it"},
		{"[-95, -30, 0]", "[–95, -30, 0]", "12:11: ", "is a dash as word processors set it"},
		{"= 600", "= −600", "6:11: ", "type the keyboard's minus"},
		{`"mm"`, `"\mm"`, "2:10: ", "escape"},
		{"", "[vehicle]\nrear_track = 1\n", "19:2: vehicle", "is given twice, first in line 3"},
		{"", "[arm.pickup]\n", "19:6: arm.pickup", "is given twice, first in line 12"},
		{"= 1000", "= 1000\nwheelbase = 1001", "5:1: vehicle.wheelbase", "is given twice, first in line 4"},
		{"", "[tie_rod]\nlength = " + strings.Repeat("[", 20000) + strings.Repeat("]", 20000) + "\n", "20:10010: ", "nested too deeply"},
	})
	_, _, err := Read("kart.toml", []byte(least+"x = "+strings.Repeat("[", 40)+strings.Repeat("]", 40)+"\n"), Options{})
	if err == nil || !strings.Contains(err.Error(), "kart.toml:19:22: is nested too deeply") {
		t.Errorf("40 brackets: %v", err)
	}
}

func TestMessagesAreSafeToPrint(t *testing.T) {
	for _, hostile := range []string{"\x1b[31mred", "a\u202eb", "\u2066x", "line\nbreak", "\u0085", strings.Repeat("é", 10000), "]]>", "\U0001f6e0"} {
		key := `"` + strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(hostile, "\x1b", `\u001b`), "\n", `\n`), "\u0085", `\u0085`) + `"`
		text := least + "[[part]]\nname = " + key + "\non = " + key + "\n" + key + " = 1\n[[variant]]\nname = " + key + "\nset = {" + key + " = 1}\n"
		_, _, err := Read(hostile, []byte(text), Options{Variant: "x" + hostile, Set: []string{"'" + hostile + "'=" + hostile}})
		if err == nil {
			t.Fatalf("%q: no error", hostile)
		}
		for _, line := range strings.Split(err.Error(), "\n") {
			if got := setup.Printable(line); got != line {
				t.Errorf("%q: message line %q", hostile, line)
			}
			if n := len([]rune(line)); n > 600 && !strings.HasPrefix(line, strings.Repeat("é", 100)) {
				t.Errorf("%q: line of %d characters", hostile, n)
			}
		}
	}
}

func TestFilesThatAreNoSetup(t *testing.T) {
	utf16 := func(s string, order func(r rune) []byte) []byte {
		var out []byte
		for _, r := range s {
			out = append(out, order(r)...)
		}
		return out
	}
	little := func(r rune) []byte { return []byte{byte(r), byte(r >> 8)} }
	big := func(r rune) []byte { return []byte{byte(r >> 8), byte(r)} }
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "1:1: is empty"},
		{"blank", []byte(" \n\t\r\n"), "1:1: is empty"},
		{"mark only", []byte("\ufeff"), "1:1: is empty"},
		{"too large", make([]byte, maxBytes+1), "1:1: is larger than 4 MB"},
		{"UTF-16 with mark", utf16("\ufeff"+least, little), "1:1: is saved as UTF-16"},
		{"UTF-16 big endian", utf16("\ufeff"+least, big), "1:1: is saved as UTF-16"},
		{"UTF-16 without mark", utf16(least, little), "1:1: is saved as UTF-16"},
		{"UTF-16 big, no mark", utf16(least, big), "1:1: is saved as UTF-16"},
		{"a picture", []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"), "1:1: is not text"},
		{"a word processor's", []byte("PK\x03\x04\x14\x00\x06\x00"), "1:1: is a word processor's file"},
		{"rich text", []byte(`{\rtf1\ansi locksweep = 1`), "1:1: is a word processor's file"},
		{"Latin-1", []byte("locksweep = 1\nname = \"caf\xe9\"\n"), "2:12: is not UTF-8"},
	} {
		_, _, err := Read("kart.toml", c.data, Options{})
		if err == nil || !strings.HasPrefix(err.Error(), "kart.toml:"+c.want) {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

// TestCaretUnderWideCharacters: the mark stands under the mistake on a terminal, where wide characters take two columns and
// accents set over others none (Unicode Standard Annex 11: memory).
func TestCaretUnderWideCharacters(t *testing.T) {
	for before, want := range map[string]int{"": 0, "abc": 3, "カート": 6, "ｗｉｄｅ": 8, "e\u0301": 1, "🔧": 2, "Fährte": 6, "한글 x": 6} {
		_, _, err := Read("kart.toml", []byte("name = \""+before+"\" x\n"), Options{})
		var list Errors
		if !errors.As(err, &list) {
			t.Fatalf("%q: %v", before, err)
		}
		line := strings.TrimSuffix(list[0].Error(), "^")
		caret := line[strings.LastIndexByte(line, '\n')+1:]
		if got := len(caret) - len(`  name = "" `); got != want {
			t.Errorf("%q: the caret stands %d columns in, want %d: %s", before, got, want, list[0].Error())
		}
	}
}
