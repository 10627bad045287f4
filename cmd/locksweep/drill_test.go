package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures"
	"locksweep/fixtures/trial"
	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/export"
)

// TestSettingsGiveThePlaceBack reads examples anew with what the answer says to set and sweeps them: locks and rods must be those of
// the listed place, which are others than today's for most.
func TestSettingsGiveThePlaceBack(t *testing.T) {
	places, moved := 0, 0
	for _, e := range fixtures.Examples {
		// As a rule one of each linkage, of two rods the one whose sides differ, where what suits one side is not enough.
		if !trial.Long() && !slices.Contains([]string{"cyclekart", "beam-cyclekart", "rack-buggy"}, e.Name) {
			continue
		}
		data, err := e.Data()
		if err != nil {
			t.Fatal(err)
		}
		s, _, err := setupfile.Read(e.Name, data, setupfile.Options{})
		if err != nil {
			t.Fatal(err)
		}
		var f drillFlags
		for _, on := range []drill.On{drill.Arm, drill.DropArm} {
			r, err := drill.Search(s, on, drill.Aims{Percent: 100}, drill.Options{Step: trial.Every(16.0, 8), Reach: 16, Best: 2, NewMetal: true, Edge: drill.EdgeFloor, Slip: -1})
			if errors.Is(err, drill.ErrNoDropArm) && !s.HasDropArm() {
				continue
			}
			if err != nil || len(r.Best) == 0 {
				t.Errorf("%s, %v: %v", e.Name, on, err)
				continue
			}
			for _, set := range f.settings(r, nil, &r.Best[0].Place, e.Name, data) {
				if len(set) > 70 {
					t.Errorf("%s, %v: %s is long to paste", e.Name, on, set)
				}
			}
			said, err := export.Drill(r, nil, new(export.Source), func(p *drill.Place) []string { return f.settings(r, nil, p, e.Name, data) })
			var out struct{ Best []settable }
			if err := cmp.Or(err, json.Unmarshal(said, &out)); err != nil || len(out.Best) != len(r.Best) {
				t.Errorf("%s, %v: %d of %d places, %v", e.Name, on, len(out.Best), len(r.Best), err)
			}
			for i, place := range out.Best {
				if len(place.Set) == 0 {
					t.Errorf("%s, %v: place %d cannot be set", e.Name, on, i+1)
					continue
				}
				again, _, err := setupfile.Read(e.Name, data, setupfile.Options{Set: place.Set})
				if err != nil {
					t.Errorf("%s, %v: %v: %v", e.Name, on, place.Set, err)
					continue
				}
				compareSweep(t, again, &r.Best[i], place)
				places++
				for _, side := range setup.Sides {
					if math.Abs(r.Best[i].Sweep.Rods[side].Length-r.Current.Sweep.Rods[side].Length) > 0.01 {
						moved++
						break
					}
				}
			}
		}
	}
	if 2*moved <= places {
		t.Errorf("only %d of %d places have other rods than today: a setting that sets nothing might pass", moved, places)
	}
}

// settable is what the machine-readable output says of a place.
type settable struct {
	Set  []string
	Rods struct{ Left, Right float64 }
}

func compareSweep(t *testing.T, s *setup.Setup, l *drill.Listed, place settable) {
	t.Helper()
	fresh, err := sweep.Run(s, 5*s1.Degree)
	if err != nil {
		t.Errorf("%v: %v", place.Set, err)
		return
	}
	for _, d := range sweep.Directions {
		if by := (fresh.Locks[d].Column - l.Sweep.Locks[d].Column).Abs().Degrees(); by > 1e-6 {
			t.Errorf("%v: %v lock of the column differs by %g", place.Set, d, by)
		}
	}
	for _, side := range setup.Sides {
		want := [2]float64{place.Rods.Left, place.Rods.Right}[side]
		if got := s.Unit.FromMM(fresh.Rods[side].Length); math.Abs(got-want) > 1e-6 {
			t.Errorf("%v: %v rod %g, want %g", place.Set, side, got, want)
		}
	}
}

// TestAlarmedPlaceIsNotSaved: beside a place that is fit, one listed with an alarm is refused before anything is written, and
// so is one that leaves everything as it is.
func TestAlarmedPlaceIsNotSaved(t *testing.T) {
	file := filepath.Join(t.TempDir(), "saved.toml")
	same, other := drill.Listed{Sweep: new(sweep.Result)}, drill.Listed{Sweep: new(sweep.Result)}
	other.Link.X = 1
	r := &drill.Result{Setup: &setup.Setup{}, Current: same, Best: []drill.Listed{other, {Alarms: []sweep.Code{sweep.WheelsOpposed}}, same}}
	for pick, want := range map[int]string{1: "place 1 cannot be swept", 2: "--save: nothing is written of place 2: the wheels turn against each other",
		3: "nothing is saved, since place 3 leaves hole and rods as they are"} {
		f := drillFlags{pick: pick, saving: saving{path: file}}
		err := f.save(nil, r, nil, func(*drill.Place) []string { return nil })
		if _, none := err.(noAnswer); !none || !strings.Contains(err.Error(), want) {
			t.Errorf("place %d: %v, want %q", pick, err, want)
		}
	}
	if _, err := os.Stat(file); !os.IsNotExist(err) {
		t.Errorf("the file: %v", err)
	}
}
