package main

import (
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
	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/export"
	"locksweep/render/report"
	"locksweep/render/wording"
)

// TestSettingsGiveThePlaceBack reads examples anew with what the answer says to set, in its text too, and sweeps them: every figure that was promised
// must be that of the listed place, and its rods are others than today's for most.
func TestSettingsGiveThePlaceBack(t *testing.T) {
	places, moved := 0, 0
	for _, e := range fixtures.Examples {
		// As a rule one of each linkage, of two rods the one whose sides differ, where what suits one side is not enough.
		if !trial.Long() && !slices.Contains([]string{"cyclekart", "beam-cyclekart", "rack-buggy"}, e.Name) {
			continue
		}
		data := example.Data(t, e.Name)
		s, _, err := setupfile.Read(e.Name, data, setupfile.Options{})
		if err != nil {
			t.Fatal(err)
		}
		f := drillFlags{setupFlags: setupFlags{source: source{path: e.Name, data: data}}}
		for _, on := range []drill.On{drill.Arm, drill.DropArm} {
			r, err := drill.Search(s, on, drill.Aims{Percent: 100}, drill.Options{Step: trial.Every(16.0, 8), Reach: 16, Best: 2, NewMetal: true, Edge: drill.EdgeFloor, Slip: -1})
			if errors.Is(err, drill.ErrNoDropArm) && s.Rack != nil {
				continue
			}
			if err != nil || len(r.Best) == 0 {
				t.Errorf("%s, %v: %v", e.Name, on, err)
				continue
			}
			for _, set := range f.settings(r, nil, &r.Best[0].Place) {
				if len(set) > 70 {
					t.Errorf("%s, %v: %s is long to paste", e.Name, on, set)
				}
			}
			said := export.Drill(r, nil, new(export.Source), func(p *drill.Place) []string { return f.settings(r, nil, p) })
			var out struct{ Best []settable }
			if err := json.Unmarshal(said, &out); err != nil || len(out.Best) != len(r.Best) {
				t.Errorf("%s, %v: %d of %d places, %v", e.Name, on, len(out.Best), len(r.Best), err)
			}
			text := report.Drill(r, report.DrillOptions{ToSweep: wording.Command("sweep", e.Name+".toml", "", out.Best[0].Set, 76)})
			if got := pasted(string(text)); !slices.Equal(got, out.Best[0].Set) {
				t.Errorf("%s, %v: pasted from the text %q, want %q", e.Name, on, got, out.Best[0].Set)
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
				compareSweep(t, again, r, &r.Best[i], place)
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

// TestSettingsGiveThePlaceBackBeforeAChange: a place that is of round figures only after [change] has pitched the vehicle on other tyres is given
// with as many digits as it takes.
func TestSettingsGiveThePlaceBackBeforeAChange(t *testing.T) {
	change := []string{"change.tyre={diameter=280, width=140}", "change.narrow=40"}
	data := example.Data(t, "shed-kart")
	read := func(set ...string) *setup.Setup {
		s, _, err := setupfile.Read("shed-kart.toml", data, setupfile.Options{Set: set})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	s := read(change...)
	r, err := drill.Search(s, drill.Arm, drill.Aims{Percent: 100}, drill.Options{Step: 24, Best: 1, NewMetal: true, Edge: 1.4, Slip: -1})
	if err != nil {
		t.Fatal(err)
	}
	f := drillFlags{setupFlags: setupFlags{source: source{path: "shed-kart.toml", data: data, opt: setupfile.Options{Set: change}}}}
	place, rods := &r.Best[0].Place, r.Rods(&r.Best[0].Place)
	set := f.settings(r, nil, place)
	if len(set) == 0 || place.Spot == r.Current.Spot {
		t.Fatalf("%v is set by %v", place.Spot, set)
	}
	pasted := settable{Set: set}
	pasted.Rods.Left, pasted.Rods.Right = rods[0], rods[1]
	compareSweep(t, read(append(change, set...)...), r, &r.Best[0], pasted)
}

// settable is what the machine-readable output says of a place.
type settable struct {
	Set  []string
	Rods struct{ Left, Right float64 }
}

// pasted is what stands behind each --set of the last command in a text, as a shell takes it: in single quotes, or up to a blank.
func pasted(text string) (set []string) {
	_, text, _ = strings.Cut(text, "\n  locksweep sweep ")
	text, _, _ = strings.Cut(text, "\n\n")
	for {
		_, rest, found := strings.Cut(text, "--set ")
		if !found {
			return set
		}
		arg := ""
		for rest != "" && !strings.ContainsRune(" \\\n", rune(rest[0])) {
			if rest[0] == '\'' {
				quoted, after, _ := strings.Cut(rest[1:], "'")
				arg, rest = arg+quoted, after
				continue
			}
			arg, rest = arg+rest[:1], rest[1:]
		}
		set, text = append(set, arg), rest
	}
}

// compareSweep holds a setup that a place was pasted into against all that was promised of the place: figures to 1e-6 of their unit, gaps to what
// they are known to, the error to what lies between poses.
func compareSweep(t *testing.T, s *setup.Setup, r *drill.Result, l *drill.Listed, place settable) {
	t.Helper()
	fresh, err := sweep.Run(s, 5*s1.Degree)
	if err != nil {
		t.Errorf("%v: %v", place.Set, err)
		return
	}
	alike := func(what string, got, want, within float64) {
		t.Helper()
		if !(math.Abs(got-want) <= within) && got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
			t.Errorf("%v: %s %.9g, promised %.9g", place.Set, what, got, want)
		}
	}
	leverage, margin, ends := s1.InfAngle(), s1.InfAngle(), [2]s1.Angle{}
	var stops [][2]int
	off := s1.Angle(0)
	for _, d := range sweep.Directions {
		lock := &fresh.Locks[d]
		alike(d.String()+" lock of the column", lock.Column.Degrees(), l.Sweep.Locks[d].Column.Degrees(), 1e-6)
		alike(d.String()+" inner wheel", lock.Pose.Turn.InnerSteer.Degrees(), l.Inner[d].Degrees(), 1e-6)
		alike(d.String()+" outer wheel", lock.Pose.Turn.OuterSteer.Degrees(), l.Outer[d].Degrees(), 1e-6)
		if first := lock.First(); first != nil && first.Kind == sweep.Contact {
			stops = append(stops, first.Pair)
		}
		ends[d] = lock.Column
		if p, ok := fresh.Model.AtInnerSteer(lock.Column, r.Aims.Lock); ok {
			ends[d] = p.Column
		}
		alike(d.String()+" turn past the lock wanted", (lock.Column - ends[d]).Abs().Degrees(), l.Beyond[d].Degrees(), 1e-6)
		leverage = min(leverage, fresh.Model.LeastLeverage(0, ends[d]).Angle)
		stopping := fresh.Model.Stopping(lock)
		margin = min(margin, stopping.Margin)
		if begin, ok := fresh.Model.AtMeanSteer(lock, r.Aims.From); ok {
			for i := range 201 {
				p, _ := fresh.Model.Pose(begin.Column + (ends[d]-begin.Column)*s1.Angle(i)/200)
				off = max(off, (p.Turn.Ahead - s1.Angle(r.Aims.Percent/100)*(p.Turn.Ahead-p.Turn.Error)).Abs())
			}
		} else {
			off = s1.InfAngle()
		}
	}
	ratios := fresh.Model.Straight.Ratio
	alike("ratio", (ratios[0]+ratios[1])/2, l.Ratio, 1e-6)
	alike("least leverage", leverage.Degrees(), l.Transmission.Degrees(), 1e-6)
	alike("margin of the stop", margin.Degrees(), l.Margin.Degrees(), 1e-6)
	alike("off Ackermann", off.Degrees(), l.Worst.Degrees(), 1e-3)
	gap := math.NaN()
	near := func(pair [2]int) bool { return slices.Contains(stops, pair) }
	if least, found := fresh.Model.Scene.Closest(ends[sweep.ToRight], ends[sweep.ToLeft], 4*s.Limits.Clearance, near); found {
		gap = least.Gap
	}
	alike("least gap", gap, l.Clearance, 1e-4)
	for _, side := range setup.Sides {
		alike(side.String()+" rod", s.Unit.FromMM(fresh.Rods[side].Length), [2]float64{place.Rods.Left, place.Rods.Right}[side], 1e-6)
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
