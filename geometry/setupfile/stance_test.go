package setupfile

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
)

// TestStanceIsDoubted sets one figure as a slip would, and as it may well be: tyres of 260 mm, kingpins 600 mm apart.
func TestStanceIsDoubted(t *testing.T) {
	for _, c := range []struct{ set, want string }{
		{"wheel.offset=360", "--set: wheel.offset: puts the tyre 360 mm outboard of the kingpin, farther than the kingpin is from the middle of the kart (300 mm); is it half the track? It counts from the kingpin centre; from there it would be 60 mm"},
		{"wheel.offset=720", "--set: wheel.offset: puts the tyre 720 mm outboard"},
		{"right.wheel.offset=420", "--set: right.wheel.offset: puts the tyre 420 mm outboard"},
		{"wheel.offset=290", ""},
		{"kingpin.inclination=-8", "--set: kingpin.inclination: leans the kingpin's top 8 degrees outboard; inboard, by up to 15, is usual (common practice); is the sign right? top inboard is positive"},
		{"right.kingpin.inclination=-8", "--set: right.kingpin.inclination: leans the kingpin's top 8 degrees outboard"},
		{"kingpin.inclination=-2", ""},
		{"kingpin.inclination=18", ""},
		{"wheel.toe=4", "--set: wheel.toe: is 4 degrees for each wheel; under 1 is usual (common practice); is it a length? Tyres whose distances ahead and behind differ by 4 mm have 0.44 degrees each"},
		{"wheel.toe=-2", "--set: wheel.toe: is -2 degrees for each wheel"},
		{"right.wheel.toe=3", "--set: right.wheel.toe: is 3 degrees"},
		{"wheel.toe=1", ""},
		{"column.rake=-45", "--set: column.rake: has the column fall 45 degrees towards the driver, steering wheel below the foot; it counts up from the horizontal, 20 to 60 is usual (common practice); is the sign right?"},
		{"column.rake=0", ""},
		{"column.rake=90", ""},
	} {
		_, warnings, err := Read("kart.toml", []byte(least), Options{Set: []string{c.set}})
		if err != nil {
			t.Errorf("%s: %v", c.set, err)
			continue
		}
		var got []string
		for _, w := range warnings {
			switch w.Code {
			case "half-track", "inclination-sign", "toe", "rake-sign":
				got = append(got, w.String())
			}
		}
		if len(got) > 1 || len(got) == 1 && (c.want == "" || !strings.HasPrefix(got[0], c.want)) || len(got) == 0 && c.want != "" {
			t.Errorf("%s:\n got %v\nwant %s", c.set, got, c.want)
		}
	}
}

// TestRandomStancesAreNotDoubted: kingpins, wheels and columns as drawn for tests of the mechanism, wider than karts have them, stand within
// what is not doubted.
func TestRandomStancesAreNotDoubted(t *testing.T) {
	for seed := range uint64(trial.Count(300, 3000)) {
		s := random.FromSeed(seed)
		sets := []string{fmt.Sprintf("kingpin.spacing=%.9f", s.Spacing), fmt.Sprintf("column.rake=%.9f", s.Column.Rake.Degrees())}
		for side, under := range [2]string{"", "right."} {
			c := &s.Corners[side]
			sets = append(sets, fmt.Sprintf("%skingpin.inclination=%.9f", under, c.Kingpin.Inclination.Degrees()),
				fmt.Sprintf("%swheel.toe=%.9f", under, c.Wheel.Toe.Degrees()), fmt.Sprintf("%swheel.offset=%.9f", under, c.Wheel.Offset))
		}
		_, warnings, err := Read("kart.toml", []byte(least), Options{Set: sets})
		if err != nil {
			t.Fatalf("%v: %v", sets, err)
		}
		for _, w := range warnings {
			if slices.Contains([]string{"half-track", "inclination-sign", "toe", "rake-sign"}, w.Code) {
				t.Errorf("seed %d: %v", seed, w)
			}
		}
	}
}
