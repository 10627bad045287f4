package curves_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/curves"
	"locksweep/render/sheet"
)

// TestChartsOfEveryExample: well-formed, the same bytes each time, and with the locks' angles on them.
func TestChartsOfEveryExample(t *testing.T) {
	for _, e := range fixtures.Examples {
		data, err := e.Data()
		if err != nil {
			t.Fatal(err)
		}
		s, _, err := setupfile.Read(e.Name, data, setupfile.Options{})
		if err != nil {
			t.Fatal(err)
		}
		r, err := sweep.Run(s, 2*s1.Degree)
		if err != nil {
			t.Fatal(err)
		}
		for _, paper := range []sheet.Size{sheet.A4.Landscape(), sheet.Letter} {
			opt := sheet.Options{Paper: paper}
			for name, draw := range map[string]func(*sweep.Result, sheet.Options) (*sheet.Sheet, error){"angles": curves.Angles, "error": curves.Error} {
				s, err := draw(r, opt)
				if err != nil {
					t.Fatalf("%s, %s on %s: %v", e.Name, name, paper.Name, err)
				}
				first := s.Bytes()
				if second, _ := draw(r, opt); !bytes.Equal(first, second.Bytes()) {
					t.Errorf("%s, %s: not the same bytes twice", e.Name, name)
				}
				text := words(t, first)
				for _, want := range map[string][]string{"angles": {"left wheel", "right wheel", "ideal inner wheel"}, "error": {"turning left", "turning right", "ideal"}}[name] {
					if !strings.Contains(text, want) {
						t.Errorf("%s, %s does not name %q", e.Name, name, want)
					}
				}
			}
		}
	}
}

// words returns all character data of a drawing, which must be well-formed.
func words(t *testing.T, data []byte) string {
	t.Helper()
	var b strings.Builder
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return b.String()
		}
		if err != nil {
			t.Fatal(err)
		}
		if c, ok := token.(xml.CharData); ok {
			b.Write(c)
			b.WriteByte('\n')
		}
	}
}
