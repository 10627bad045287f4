package compare

import (
	"cmp"
	"math"
	"slices"
)

// Aim is what somebody may want a setup for.
type Aim int

const (
	Tight   Aim = iota // turning tight: the least turning circle
	True               // turning true: the least Ackermann error
	Sliding            // the greatest slide that both front wheels hold
)

// Aims lists all of them.
var Aims = [3]Aim{Tight, True, Sliding}

// Verdict is which setup is best for an aim, of those that are sound.
type Verdict struct {
	Aim
	By     *Criterion // that decided
	Best   int        // entry
	AsGood []int      // entries that a tape could not tell from the best
	Next   int        // the best of the others that are sound; -1 where there is none
	Costs  []Cost     // the worst first
}

// Cost is a criterion in which another sound entry is better than the best for an aim.
type Cost struct {
	*Criterion
	Than int // that entry
}

// Criterion is a figure that decides, by entry the worse of both ways and sides.
type Criterion struct {
	Key    string // of the figure; "slide_held" is the lesser of both wheels'
	Kind   Kind
	Better Better
	Tells  float64 // a smaller difference cannot be told with tape and protractor; in the units of Values
	Values []float64
}

// What a tape and a protractor can tell (common practice, no source).
const (
	tellsError    = 0.3 * math.Pi / 180
	tellsSlide    = 0.5 * math.Pi / 180
	tellsLeverage = 2 * math.Pi / 180
	tellsCircle   = 0.01 // of itself
	tellsGap      = 0.5  // mm
)

// mostCosts is how many costs a verdict names.
const mostCosts = 2

// Verdicts says which entry is best for each aim; an aim is left out where no sound entry has the figure. Of
// entries that cannot be told apart it is the one called today, which changes nothing; -1 where there is none.
func (c *Comparison) Verdicts(today int) (list []Verdict) {
	criteria := c.criteria()
	for _, aim := range Aims {
		by := &criteria[aim]
		best := c.first(by, nil)
		if best < 0 {
			continue
		}
		v := Verdict{Aim: aim, By: by, Best: best, Next: -1}
		if today >= 0 && c.judged(by, today) && !by.better(best, today) {
			v.Best = today
		}
		for i := range c.Entries {
			if i != v.Best && c.judged(by, i) && !by.better(best, i) {
				v.AsGood = append(v.AsGood, i)
			}
		}
		v.Next = c.first(by, append(slices.Clone(v.AsGood), v.Best))
		v.Costs = c.costs(criteria, v.Best, by)
		list = append(list, v)
	}
	return list
}

// criteria are the figures that decide, those of the aims first.
func (c *Comparison) criteria() []Criterion {
	circle, _ := c.Find("turning_circle_balanced").Worse()
	leverage, _ := c.Find("least_transmission").Worse()
	gap, _ := c.Find("least_gap").Worse()
	inside, _ := c.Find("slide_held_inside").Worse()
	held, _ := c.Find("slide_held_outside").Worse()
	for i := range held {
		held[i] = math.Min(held[i], inside[i])
		if e := &c.Entries[i]; e.Result != nil {
			gap[i] = math.Min(gap[i], e.Result.NearLimit()) // beyond that no pair is listed
		}
	}
	least := math.Inf(1)
	for i, v := range circle {
		if c.Entries[i].Sound() && v < least {
			least = v
		}
	}
	return []Criterion{
		Tight:   {"turning_circle_balanced", Ground, Less, tellsCircle * least, circle},
		True:    c.rollsTrue(),
		Sliding: {"slide_held", Angle, More, tellsSlide, held},
		{"least_transmission", Angle, More, tellsLeverage, leverage},
		{"least_gap", Length, More, tellsGap, gap},
		c.errorOf("ackermann_error_20"),
		c.errorOf("ackermann_error_lock"),
	}
}

// rollsTrue is the Ackermann error at the greatest mean steer that all sound entries reach of those that are compared, so
// that a setup which hardly turns does not win by that.
func (c *Comparison) rollsTrue() Criterion {
	key := "ackermann_error_20"
	row := c.Find(key)
	for i := range c.Entries {
		if c.Entries[i].Sound() && (math.IsNaN(row.Values[i][0]) || math.IsNaN(row.Values[i][1])) {
			key = "ackermann_error_10"
		}
	}
	return c.errorOf(key)
}

// errorOf is one of the figures of Ackermann error.
func (c *Comparison) errorOf(key string) Criterion {
	values, _ := c.Find(key).Worse()
	return Criterion{key, Angle, NearZero, tellsError, values}
}

// judged reports whether an entry is in the running.
func (c *Comparison) judged(by *Criterion, i int) bool {
	return c.Entries[i].Sound() && !math.IsNaN(by.Values[i])
}

// first is the best entry that is in the running, but for some; -1 where none is.
func (c *Comparison) first(by *Criterion, except []int) int {
	best := -1
	for i := range c.Entries {
		if c.judged(by, i) && !slices.Contains(except, i) && (best < 0 || by.merit(i) > by.merit(best)) {
			best = i
		}
	}
	return best
}

// merit is a value turned so that more is better.
func (k *Criterion) merit(i int) float64 { return k.Better.merit(k.Values[i]) }

// better reports whether an entry is better than another by more than can be told.
func (k *Criterion) better(i, than int) bool { return k.merit(i) > k.merit(than)+k.Tells }

// costs lists in what others beat an entry, those that beat it by most first. Of Ackermann errors it is the one that it is beaten in by
// most, at whatever steer; the aim that they decide has that in its own figure.
func (c *Comparison) costs(criteria []Criterion, entry int, decided *Criterion) (list []Cost) {
	by := func(k Cost) float64 { return (k.merit(k.Than) - k.merit(entry)) / k.Tells }
	for i := range criteria {
		k := &criteria[i]
		if k == decided || k.Better == NearZero && decided == &criteria[True] {
			continue
		}
		if best := c.first(k, nil); best >= 0 && c.judged(k, entry) && k.better(best, entry) {
			list = append(list, Cost{k, best})
		}
	}
	slices.SortStableFunc(list, func(a, b Cost) int { return cmp.Compare(by(b), by(a)) })
	errors := 0
	list = slices.DeleteFunc(list, func(k Cost) bool {
		if k.Better == NearZero {
			errors++
		}
		return k.Better == NearZero && errors > 1
	})
	return list[:min(len(list), mostCosts)]
}
