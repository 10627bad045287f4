package sheet_test

import (
	"strings"
	"testing"

	"locksweep/fixtures/readback"
	"locksweep/render/sheet"
)

var hostile = []string{
	`<script>alert(1)</script>`, `"><svg onload="x`, `' onclick='x`, `]]>`, `<![CDATA[`, `&amp;&lt;&nbsp;`, `--><!--`,
	"\x00\x01\x08\x0b\x0c\x1b[31m", "line\nbreak\r\n\ttab", "\xff\xfe\x80", "\u202eevil\u2066", "\ufeff\ufffe\uffff", "\U0001F6DE emoji",
	"é ü ß Ω Ж 漢字", "e\u0301", "\u2028\u2029", strings.Repeat("M", 10000), strings.Repeat("\u0301", 5000), "", "   ", "</title></svg>",
	"<metadata>" + sheet.Marker + "</metadata>",
}

// drawHostile writes the text wherever a text can stand.
func drawHostile(text string) *sheet.Sheet {
	s := sheet.New(sheet.A4, sheet.Title{Title: text, Subtitle: text, Note: text, Origin: sheet.Origin{Program: text, Source: text}, Desc: text})
	s.Scale = 0.1
	c := s.Area().Center()
	s.Text(c, sheet.Over, sheet.Style{}, text)
	s.Label(sheet.Label{At: c, Lines: []string{text, text}, End: sheet.ArrowEnd})
	s.Balloon(c, text)
	s.Dim(sheet.Aligned, c, c.Add(pt{X: 30, Y: 30}), 10, text)
	s.DimAngle(c, 20, 0, 1, text)
	s.Paragraph(c.Add(pt{X: -80, Y: -90}), 60, sheet.Style{}, text)
	return s
}

func checkHostile(t *testing.T, text string) {
	t.Helper()
	s := drawHostile(text)
	all, err := readback.Parse(s.Bytes())
	if err != nil {
		t.Fatalf("text %.40q: not well-formed: %v", text, err)
	}
	allowed := map[string]bool{"svg": true, "metadata": true, "title": true, "desc": true, "style": true, "rect": true,
		"g": true, "path": true, "circle": true, "text": true}
	roots := 0
	for _, e := range all {
		if !allowed[e.Name] {
			t.Fatalf("text %.40q became an element <%s>", text, e.Name)
		}
		if e.Name == "svg" {
			roots++
		}
		for k := range e.Attr {
			if strings.HasPrefix(strings.ToLower(k), "on") {
				t.Fatalf("text %.40q became an attribute %s", text, k)
			}
		}
		if strings.ContainsAny(e.Text, "\x00\x01\x08\x1b\u202e\u2066\ufffe\uffff") {
			t.Fatalf("text %.40q: a control character came through in %q", text, e.Text)
		}
	}
	if roots != 1 {
		t.Fatalf("text %.40q: %d drawings in one", text, roots)
	}
	frame := s.Frame().ExpandedByMargin(0.01)
	for _, b := range s.Texts() {
		if !frame.X.ContainsInterval(b.Bounds().X) {
			t.Fatalf("text %.40q leaves the frame sideways: %v", text, b.Bounds())
		}
	}
}

func TestHostileTextIsHarmless(t *testing.T) {
	for _, text := range hostile {
		checkHostile(t, text)
	}
}

func FuzzText(f *testing.F) {
	for _, text := range hostile {
		f.Add(text)
	}
	f.Fuzz(checkHostile)
}

func TestLettersAreKept(t *testing.T) {
	for in, want := range map[string]string{
		"Kart “Möwe” & Söhne <2>": "Kart “Möwe” & Söhne <2>",
		"  tie\trod\n7 ":          "tie rod 7",
		"a\x1b[31mred":            "a [31mred",
		"\u202efdp.exe":           "fdp.exe",
		"bad \xff byte":           "bad \ufffd byte",
	} {
		if got := sheet.Clean(in); got != want {
			t.Errorf("Clean(%q) = %q, want %q", in, got, want)
		}
	}
}
