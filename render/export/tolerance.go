package export

import (
	"math"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
)

// toleranceJSON is the object that tolerance --json prints. Keys are fixed; more may be added.
type toleranceJSON struct {
	headJSON
	Draws      int            `json:"draws"`
	Apart      int            `json:"not_assembled"` // of the draws
	Touching   int            `json:"touching_ahead"`
	Accuracies []accuracyJSON `json:"accuracies"`
	Figures    []sureJSON     `json:"figures"`
	Stops      []sureStopJSON `json:"stops"`
	First      []matterJSON   `json:"measure_first"`
	Needed     []neededJSON   `json:"needed"`
	Warnings   []warningJSON  `json:"warnings"`
}

type accuracyJSON struct {
	Path     string `json:"path"`
	Accuracy number `json:"accuracy"`
}

type sureJSON struct {
	Key       string     `json:"key"`
	Value     number     `json:"value"`
	PlusMinus number     `json:"plus_minus"`
	Low       number     `json:"low"`
	High      number     `json:"high"`
	Worst     number     `json:"worst"`
	Deviation number     `json:"standard_deviation"` // of the draws
	Linear    number     `json:"by_differences"`     // standard uncertainty
	Straight  bool       `json:"straight"`           // draws and differences agree
	KnownIn   int        `json:"known_in"`           // draws
	From      []fromJSON `json:"from"`
}

type fromJSON struct {
	Path    string `json:"path"`
	Share   number `json:"share"`
	PerUnit number `json:"per_unit"`
}

type sureStopJSON struct {
	Turning string     `json:"turning"`
	Kind    *string    `json:"kind"`
	Parts   *[2]string `json:"parts"`
	Side    *string    `json:"side"`
	Brushes bool       `json:"brushes"`
	Share   number     `json:"share"`
}

type matterJSON struct {
	Of    string      `json:"of"`
	Paths []againJSON `json:"paths"`
}

type againJSON struct {
	Path  string `json:"path"`
	Both  bool   `json:"both_sides"`
	Share number `json:"share"`
}

type neededJSON struct {
	Of          string `json:"of"`
	Within      number `json:"within"`
	Holes       number `json:"holes"`
	HolesAlways number `json:"holes_always"`
	Rods        number `json:"rods"`
	RodsAlways  number `json:"rods_always"`
	Enough      bool   `json:"enough"`
}

// questions are the words for tolerance.Questions.
var questions = [4]string{"lock", "ackermann_error", "least_gap", "rod_length"}

// Tolerance returns the object that tolerance --json prints.
func Tolerance(r *tolerance.Result, src *Source) []byte {
	in := lengths{r.Setup.Unit}
	out := &toleranceJSON{
		headJSON: src.head("locksweep.tolerance/1", r.Setup),
		Draws:    r.Options.Draws, Apart: r.Apart, Touching: r.Touching, Figures: []sureJSON{}, Stops: []sureStopJSON{}, Warnings: src.said(r.Model, &r.Locks),
	}
	for i := range r.Readings {
		one := &r.Readings[i]
		path, _ := filed(r, one)
		out.Accuracies = append(out.Accuracies, accuracyJSON{path, number(one.Accuracy / perReading(in, one.Quantity))})
	}
	for i := range r.Figures {
		out.Figures = append(out.Figures, sureOf(in, r, &r.Figures[i]))
	}
	for _, d := range sweep.Directions {
		for _, s := range r.Stops[d] {
			out.Stops = append(out.Stops, sureStopOf(r, d, &s))
		}
	}
	for _, q := range tolerance.Questions {
		m := matterJSON{Of: questions[q], Paths: []againJSON{}}
		for _, one := range r.Most(q) {
			path := one.Key
			if !one.Both {
				path, _ = r.Setup.Rehung.Stands(path)
			}
			m.Paths = append(m.Paths, againJSON{path, one.Both, number(one.Share)})
		}
		out.First = append(out.First, m)
	}
	for _, q := range [2]tolerance.Question{tolerance.Lock, tolerance.Ackermann} {
		e := r.Exact(q)
		out.Needed = append(out.Needed, neededJSON{questions[q], degrees(tolerance.Wanted), in.of(e.Holes), in.of(e.HolesAlways), in.of(e.Rods), in.of(e.RodsAlways), e.Enough})
	}
	return encode(out)
}

// filed is the file's key of a reading, and -1 where the file counts it the other way: [change] may have hung anew what it is of.
func filed(r *tolerance.Result, one *setup.Reading) (key string, sign float64) {
	return r.Setup.Rehung.Stands(one.Key)
}

// sureKey is the key of one side of a figure: that of the comparison, and the side or the way that it turns.
func sureKey(f *tolerance.Figure) string {
	if f.Split == compare.Single {
		return f.Key
	}
	return f.Key + "_" + setup.Side(f.Side).String()
}

func sureOf(in lengths, r *tolerance.Result, f *tolerance.Figure) sureJSON {
	of := func(v float64) number { return outputOf(in.unit, f.Kind, v) }
	out := sureJSON{
		Key: sureKey(f), Value: of(f.Value), PlusMinus: of(f.PlusMinus()), Low: of(f.Draws.Low), High: of(f.Draws.High), Worst: of(f.Worst),
		Deviation: of(f.Draws.Deviation), Linear: of(f.Uncertainty), Straight: !f.Bent, KnownIn: f.Draws.Known, From: []fromJSON{},
	}
	for _, s := range f.From {
		one := &r.Readings[s.Reading]
		path, sign := filed(r, one)
		out.From = append(out.From, fromJSON{path, number(s.Share), of(sign * s.PerUnit * perReading(in, one.Quantity))})
	}
	return out
}

// perReading is how much one of the output's units of a reading is in geometry: mm in its unit of length, radians in a degree.
func perReading(in lengths, q setup.Quantity) float64 {
	if q == setup.OfLength {
		return in.unit.ToMM(1)
	}
	return math.Pi / 180
}

func sureStopOf(r *tolerance.Result, d sweep.Direction, s *tolerance.Stop) sureStopJSON {
	out := sureStopJSON{Turning: d.String(), Share: number(float64(s.Count) / float64(r.Options.Draws-r.Apart))}
	if s.Limit != nil {
		l := limitOf(r.Model, s.Limit)
		out.Kind, out.Parts, out.Side, out.Brushes = &l.Kind, l.Parts, l.Side, s.Limit.Brushes
	}
	return out
}
