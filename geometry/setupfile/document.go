package setupfile

import (
	"bytes"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/width"

	"locksweep/geometry/setup"
)

// maxBytes is the largest file that is read. A setup file holds a few kilobytes.
const maxBytes = 4 << 20

// document is a text that values come from: the file, or one --set argument.
type document struct {
	source string
	flag   bool // a command-line argument: messages name no line
	data   []byte
	starts []int // offsets of line beginnings, made when first needed
}

// place is a stretch of bytes in a document; the zero place is nowhere.
type place struct {
	doc        *document
	start, end int
}

// newDocument checks that data is UTF-8 text of a bearable size. A byte order mark is cut off.
func newDocument(source string, data []byte) (*document, *Error) {
	doc := &document{source: source, data: bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))}
	refuse := func(text string) (*document, *Error) {
		return nil, &Error{Source: source, Line: 1, Column: 1, Text: text}
	}
	switch {
	case len(data) > maxBytes:
		return refuse("is larger than 4 MB; a setup file is a short text")
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")), alternateZeros(data):
		return refuse("is saved as UTF-16; save it again as UTF-8")
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(doc.data, []byte(`{\rtf`)):
		return refuse("is a word processor's file; save it as plain text (.txt) and give it the name you want")
	case bytes.IndexByte(data, 0) >= 0:
		return refuse("is not text; a setup file is plain text in UTF-8")
	case len(bytes.TrimSpace(doc.data)) == 0:
		return refuse("is empty; a setup file begins with locksweep = 1")
	}
	if i := invalidUTF8(doc.data); i >= 0 {
		return nil, doc.errorAt(i, "", "is not UTF-8 from here on; save the file again as UTF-8")
	}
	return doc, nil
}

// alternateZeros reports text in UTF-16 without its mark: ASCII with a zero beside each byte.
func alternateZeros(data []byte) bool {
	n := min(len(data), 64) &^ 1
	even, odd := 0, 0
	for i := 0; i < n; i += 2 {
		if data[i] == 0 {
			even++
		}
		if data[i+1] == 0 {
			odd++
		}
	}
	return n >= 4 && (even == n/2 && odd == 0 || odd == n/2 && even == 0)
}

// invalidUTF8 returns the offset of the first byte that is not UTF-8, or -1.
func invalidUTF8(data []byte) int {
	if utf8.Valid(data) {
		return -1
	}
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && size == 1 {
			return i
		}
		i += size
	}
	return -1
}

// line returns the number of the line that holds offset, from 1, and where that line starts and ends.
func (doc *document) line(offset int) (number, start, end int) {
	if doc.starts == nil {
		doc.starts = []int{0}
		for i, c := range doc.data {
			if c == '\n' {
				doc.starts = append(doc.starts, i+1)
			}
		}
	}
	number = sort.SearchInts(doc.starts, offset+1)
	end = len(doc.data)
	if number < len(doc.starts) {
		end = doc.starts[number] - 1
	}
	return number, doc.starts[number-1], end
}

// errorAt builds the error that stands at offset: position, the line and how far into it.
func (doc *document) errorAt(offset int, key, text string) *Error {
	offset = max(0, min(offset, len(doc.data)))
	number, start, end := doc.line(offset)
	offset = min(offset, end)
	before := string(doc.data[start:offset])
	e := &Error{
		Source: doc.source, Line: number, Column: 1 + utf8.RuneCountInString(before),
		Key: key, Text: text, at: place{doc, offset, offset},
	}
	if doc.flag {
		e.Line = 0
	}
	e.Excerpt, e.Caret = excerpt(before, strings.TrimSuffix(string(doc.data[offset:end]), "\r"))
	return e
}

// excerptWidth is how much of a line an error shows, in characters.
const excerptWidth = 76

// excerpt returns the line made of before and after, fit to print, and how many columns of a terminal precede
// its caret. Of a long line it keeps the part about the caret.
func excerpt(before, after string) (string, int) {
	const reach = 16 * excerptWidth // bytes looked at on either side, so that a line of megabytes costs nothing
	short := len(before) <= reach
	left := []rune(setup.Printable(before[max(0, len(before)-reach):]))
	right := []rune(setup.Printable(after[:min(len(after), reach)]))
	if cut := max(0, len(left)-excerptWidth/2); !short || cut > 0 && len(left)+len(right) > excerptWidth {
		left = append([]rune("…"), left[cut:]...)
	}
	if room := excerptWidth - len(left); len(right) > room {
		right = append(right[:room:room], '…')
	}
	return strings.TrimRight(string(left)+string(right), " "), columns(left)
}

// columns is how many columns of a terminal characters take: East Asian wide ones two, marks set over others none.
func columns(text []rune) (n int) {
	for _, r := range text {
		switch kind := width.LookupRune(r).Kind(); {
		case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		case kind == width.EastAsianWide, kind == width.EastAsianFullwidth:
			n += 2
		default:
			n++
		}
	}
	return n
}

func (p place) error(key, text string) *Error {
	if p.doc == nil {
		return &Error{Key: key, Text: text}
	}
	return p.doc.errorAt(p.start, key, text)
}

// lineNumber is the line the place begins in, 0 for an argument.
func (p place) lineNumber() int {
	if p.doc == nil || p.doc.flag {
		return 0
	}
	n, _, _ := p.doc.line(p.start)
	return n
}
