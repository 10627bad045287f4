package sheet

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// family is the lettering. Text is measured so that it fits with any of these fonts.
const family = "DejaVu Sans, Arial, Helvetica, sans-serif"

// capital is the height of a capital letter of the family as a share of the font size; descent is
// how far a letter like g reaches below the line, and ascent how far Å or a bracket reaches above a
// capital, both as shares of the capital's height.
const (
	capital = 0.729
	descent = 0.33
	ascent  = 0.08
)

// asciiWidths holds the advance of the characters from space to tilde in thousandths of the font
// size: of each the wider one of DejaVu Sans and Liberation Sans (which has Arial's widths), read
// from the fonts.
var asciiWidths = [95]int{
	318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337,
	636, 636, 636, 636, 636, 636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 556,
	1015, 684, 686, 722, 770, 667, 611, 778, 752, 295, 500, 667, 557, 863, 748, 787,
	667, 787, 722, 667, 611, 732, 684, 989, 685, 667, 685, 390, 337, 390, 838, 556,
	500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612,
	635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
}

// signWidths holds signs of drawings outside ASCII, likewise.
var signWidths = map[rune]int{
	'°': 500, '±': 838, '×': 838, '–': 500, '—': 1000, '…': 1000, 'Ø': 787, '·': 318, '′': 227,
	'″': 374, '−': 838, '’': 318, '‘': 318, '“': 518, '”': 518, '²': 401, '³': 401, '→': 838, '←': 838, '↑': 838, '↓': 838, '≤': 838, '≥': 838,
}

// advance is the width of a character in thousandths of the font size, rather too much than too
// little: letters of Latin, Greek and Cyrillic up to their widest small letters, all else a full square or more.
func advance(r rune) int {
	switch w, known := signWidths[r]; {
	case known:
		return w
	case r >= ' ' && r <= '~':
		return asciiWidths[r-' ']
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case r < 0x2000 && unicode.IsLower(r):
		return 900
	case r < 0x2000:
		return 1000
	case r < 0x10000:
		return 1100
	}
	return 1400
}

// TextWidth is the width on paper, mm, of text in letters of the given height.
func TextWidth(text string, height float64) float64 { return inLetters(advances(Clean(text)), height) }

// advances is the width of clean text in thousandths of the font size.
func advances(text string) (sum int) {
	for _, r := range text {
		sum += advance(r)
	}
	return sum
}

// inLetters is a width in thousandths of the font size on paper, mm.
func inLetters(sum int, height float64) float64 { return float64(sum) / 1000 * height / capital }

// LettersFor returns the first of some letter heights, mm, in which a text is no wider than width, mm; else the last.
func LettersFor(text string, width float64, heights ...float64) (height float64) {
	for _, height = range heights {
		if TextWidth(text, height) <= width {
			break
		}
	}
	return height
}

// Shorten cuts text to the given width in letters of the given height; what is missing shows as …
func Shorten(text string, height, width float64) string {
	text = Clean(text)
	if TextWidth(text, height) <= width {
		return text
	}
	room := width - TextWidth("…", height)
	sum, end := 0.0, 0
	for i, r := range text {
		sum += float64(advance(r)) / 1000 * height / capital
		if sum > room {
			break
		}
		end = i + utf8.RuneLen(r)
	}
	return strings.TrimRight(text[:end], " ") + "…"
}

// Wrap breaks text between words into lines no wider than width; a single longer word is shortened.
func Wrap(text string, height, width float64) []string {
	var lines []string
	words := strings.Fields(Clean(text))
	for from := 0; from < len(words); {
		length, to := advances(words[from]), from+1
		if inLetters(length, height) > width {
			lines = append(lines, Shorten(words[from], height, width))
			from = to
			continue
		}
		for ; to < len(words); to++ {
			longer := length + advance(' ') + advances(words[to])
			if inLetters(longer, height) > width {
				break
			}
			length = longer
		}
		lines = append(lines, strings.Join(words[from:to], " "))
		from = to
	}
	return lines
}

// plain reports whether text holds nothing that Clean would change.
func plain(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c > '~' || c == '-' {
			return false
		}
	}
	return len(text) <= longest
}

// startsFigure reports whether a text begins with a digit, or with a point and a digit.
func startsFigure(text string) bool {
	text = strings.TrimPrefix(text, ".")
	return text != "" && text[0] >= '0' && text[0] <= '9'
}

// longest text that is kept at all: a sheet holds no more, and a name of a million letters must not
// cost a second.
const longest = 2000

// Clean makes text from outside fit for a drawing: control characters, line ends included, become
// spaces; characters that XML forbids or that only steer the direction of writing go; bytes that
// are no UTF-8 become U+FFFD. A hyphen that is a sign, before a figure and behind no letter or figure, becomes the minus
// sign, so that a sheet has one; in a setting, key=value, it stays as it is typed.
func Clean(text string) string {
	if plain(text) {
		return strings.TrimSpace(text)
	}
	var b strings.Builder
	n, before := 0, ' '
	setting, depth := false, 0 // of brackets, in which a value may hold spaces
	for i, r := range text {
		was := before
		before = r
		switch r {
		case '=':
			setting = setting || was != ' '
		case '[':
			depth++
		case ']':
			depth--
		case ' ':
			setting = setting && depth > 0
		}
		switch {
		case r == '-' && !setting && !unicode.IsLetter(was) && !unicode.IsDigit(was) && was != '_' && startsFigure(text[i+1:]):
			r = '−'
		case unicode.IsControl(r) || r == '\u2028' || r == '\u2029':
			r = ' '
		case unicode.Is(unicode.Cf, r) || r >= 0xFFFE && r&0xFFFE == 0xFFFE || r >= 0xFDD0 && r <= 0xFDEF:
			continue
		}
		if n++; n > longest {
			b.WriteRune('…')
			break
		}
		b.WriteRune(r)
	}
	return strings.TrimSpace(b.String())
}
