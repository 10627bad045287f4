package drillmap

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/render/sheet"
)

// found are the answers, so that tests that look at the same one search once.
var found = map[string]*drill.Result{}

// search looks for one place: a map judges its own grid.
func search(t *testing.T, name string, on drill.On) *drill.Result {
	t.Helper()
	if r := found[name+on.String()]; r != nil {
		return r
	}
	opt := drill.Options{Edge: drill.EdgeFloor, Web: drill.WebFloor, Step: 12, Reach: 30, Best: 1, Slip: -1}
	r, err := drill.Search(example.Read(t, name), on, drill.Aims{Percent: 100}, opt)
	if err != nil {
		t.Fatal(err)
	}
	found[name+on.String()] = r
	return r
}

func TestMapsCanBeRead(t *testing.T) {
	for _, c := range []struct {
		name string
		on   drill.On
	}{{"pedal-quad", drill.Arm}, {"shed-kart", drill.DropArm}, {"field-buggy", drill.Arm}}[:trial.Every(2, 3)] {
		r := search(t, c.name, c.on)
		for _, figure := range []drill.Figure{drill.LockFigure, drill.ErrorFigure, drill.RatioFigure, drill.TransmissionFigure} {
			s, err := Sheet(r, figure, sheet.Options{Paper: sheet.A4})
			if err != nil {
				t.Fatal(err)
			}
			for _, pair := range s.Overlaps() {
				t.Errorf("%s, %v: %q overlaps %q", c.name, figure, pair[0].Text, pair[1].Text)
			}
			if lost := s.Unplaced(); len(lost) > 0 {
				t.Errorf("%s, %v: no room for %q", c.name, figure, lost)
			}
			said := ""
			for _, b := range s.Texts() {
				said += b.Text + "\n"
			}
			if !strings.Contains(said, "today") || !strings.Contains(said, "\n1\n") {
				t.Errorf("%s, %v: today's or the best place is not marked", c.name, figure)
			}
			wellFormed(t, s.Bytes())
		}
	}
}

func wellFormed(t *testing.T, out []byte) {
	t.Helper()
	for d := xml.NewDecoder(bytes.NewReader(out)); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			return
		} else if err != nil {
			t.Fatal(err)
		}
	}
}

// TestValuesOnContoursAreThere: levels that are drawn within the metal carry their values.
func TestValuesOnContoursAreThere(t *testing.T) {
	r := search(t, "pedal-quad", drill.Arm)
	m, err := r.Map(drill.ErrorFigure)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Sheet(r, drill.ErrorFigure, sheet.Options{Paper: sheet.A4})
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]bool{}
	for _, b := range s.Texts() {
		texts[b.Text] = true
	}
	long := 0
	for _, c := range m.Lines {
		for _, line := range c.Lines {
			if along(line) > 20 {
				long++
				if text := figure(c.Value, m.Levels); !texts[text] {
					t.Errorf("the contour of %s carries no value", text)
				}
			}
		}
	}
	if long < 3 {
		t.Errorf("only %d long contours to look at", long)
	}
}

// TestNoMapOfFourCoordinates says so.
func TestNoMapOfFourCoordinates(t *testing.T) {
	r := &drill.Result{Setup: example.Read(t, "pedal-quad"), On: drill.Both}
	if _, err := Sheet(r, drill.LockFigure, sheet.Options{Paper: sheet.A4}); err == nil || !strings.Contains(err.Error(), "one hole") {
		t.Errorf("got error %v", err)
	}
}

// TestMapOfTheLockSaysWhichLock: where the stop is to be ground the map shows what the wheels turn with none left, and says so.
func TestMapOfTheLockSaysWhichLock(t *testing.T) {
	for _, c := range []struct {
		cut    bool
		figure drill.Figure
		title  string
		told   bool
	}{
		{false, drill.LockFigure, "Left arm from above: lock", false},
		{true, drill.LockFigure, "Left arm from above: lock without stops", true},
		{true, drill.RatioFigure, "Left arm from above: ratio", false},
	} {
		r := &drill.Result{Setup: &setup.Setup{}, Metals: []*drill.Metal{{}}, Aims: drill.Aims{Percent: 100, Cut: c.cut}}
		const says = "as if all that may be ground were gone; ground so that a stop is left it turns less"
		if got, words := title(r, c.figure), legend(r, &drill.Map{Figure: c.figure}); got != c.title || strings.Contains(words, says) != c.told {
			t.Errorf("%+v: %q, %q", c, got, words)
		}
	}
}
