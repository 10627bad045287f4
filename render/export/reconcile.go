package export

import (
	"fmt"

	"github.com/golang/geo/s1"

	"locksweep/geometry/reconcile"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// reconcileJSON is the object that reconcile --json prints. Keys are fixed; more may be added.
type reconcileJSON struct {
	headJSON
	Agrees       bool              `json:"agrees"`
	Answer       string            `json:"answer"`
	Freedom      number            `json:"freedom"`
	Observations []observationJSON `json:"observations"`
	Mixed        *mixedJSON        `json:"mixed"`    // null where wheels' angles were not mixed up
	Suspects     []suspectJSON     `json:"suspects"` // the most probable first
	Figures      []adjustedJSON    `json:"figures"`
	Marks        []foundMarkJSON   `json:"marks"`
	Untold       []string          `json:"untold"` // paths of figures of which a slip would not show
	Advice       []adviceJSON      `json:"advice"`
	Warnings     []warningJSON     `json:"warnings"`
}

type observationJSON struct {
	What       string `json:"what"`
	Path       string `json:"path"` // empty where no file has it
	Given      number `json:"given"`
	FromFile   number `json:"from_file"`
	Adjusted   number `json:"adjusted"`
	Accuracy   number `json:"accuracy"`
	Residual   number `json:"residual"`
	Normalised number `json:"normalised"`
	Redundancy number `json:"redundancy"`
}

// mixedJSON is how wheels' angles were mixed up: all else is with them put right.
type mixedJSON struct {
	What  string   `json:"what"`  // exchanged, sign reversed, turned the other way
	Paths []string `json:"paths"` // of the readings
}

type suspectJSON struct {
	otherJSON
	Also []otherJSON `json:"also"`
}

type otherJSON struct {
	What string `json:"what"`
	Path string `json:"path"`
	By   number `json:"by"`         // what it should be, less what was given
	Both bool   `json:"both_sides"` // the other side's figure is as wrong
}

type adjustedJSON struct {
	Path      string `json:"path"`
	Given     number `json:"given"`
	Adjusted  number `json:"adjusted"`
	PlusMinus number `json:"plus_minus"`
}

type foundMarkJSON struct {
	Name      string     `json:"name"`
	At        *[3]number `json:"at"` // null where its tapes leave it open
	PlusMinus [3]number  `json:"plus_minus"`
	Mirror    *[3]number `json:"mirror"`
}

type adviceJSON struct {
	From     string   `json:"from,omitempty"` // of a tape
	To       string   `json:"to,omitempty"`
	Distance *number  `json:"distance,omitempty"`
	Column   *number  `json:"column,omitempty"` // of a reading of both wheels
	Tells    []string `json:"tells"`
}

// Reconcile returns a reconciliation as JSON; the sweep is of the file as it stands.
func Reconcile(r *reconcile.Result, m *sweep.Result, src *Source) []byte {
	in := lengths{r.Setup.Unit}
	out := &reconcileJSON{
		headJSON: src.head("locksweep.reconcile/1", r.Setup),
		Agrees:   r.Agrees(), Answer: wording.Agreement(r), Freedom: number(r.Freedom),
		Observations: []observationJSON{}, Suspects: []suspectJSON{}, Figures: []adjustedJSON{}, Marks: []foundMarkJSON{}, Untold: paths(r, r.Untold),
		Advice: []adviceJSON{}, Warnings: src.found(m, first),
	}
	if x := r.Mixed; x != nil {
		out.Mixed = &mixedJSON{What: [...]string{reconcile.Exchanged: "exchanged", reconcile.Reversed: "sign reversed", reconcile.OtherWay: "turned the other way"}[x.What]}
		for _, i := range x.Turned {
			out.Mixed.Paths = append(out.Mixed.Paths, fmt.Sprintf("turned[%d]", i))
		}
	}
	for i := range r.Observations {
		o := &r.Observations[i]
		of := func(v float64) number { return in.figure(o.Angle, v) }
		out.Observations = append(out.Observations, observationJSON{
			wording.Observed(r.Setup, o), o.Key, of(o.Given), of(o.Before), of(o.Adjusted), of(o.Accuracy), of(o.Given - o.Adjusted), number(o.Normalised), number(o.Redundancy),
		})
	}
	other := func(observation int, by float64, both bool) otherJSON {
		o := &r.Observations[observation]
		return otherJSON{wording.Observed(r.Setup, o), o.Key, in.figure(o.Angle, by), both}
	}
	for _, s := range r.Suspects {
		one := suspectJSON{other(s.Observation, s.By, s.Both), []otherJSON{}}
		for _, also := range s.Also {
			one.Also = append(one.Also, other(also.Observation, also.By, also.Both))
		}
		out.Suspects = append(out.Suspects, one)
	}
	for _, v := range r.Values {
		out.Figures = append(out.Figures, adjustedJSON{v.Key, in.figure(v.Angle, v.Given), in.figure(v.Angle, v.Adjusted), in.figure(v.Angle, v.PlusMinus)})
	}
	for i := range r.Marks {
		out.Marks = append(out.Marks, foundMarkOf(in, r, &r.Marks[i]))
	}
	for _, c := range r.Advice {
		out.Advice = append(out.Advice, adviceOf(in, r, c))
	}
	return encode(out)
}

// figure is an angle in radians, or a length in mm.
func (l lengths) figure(angle bool, v float64) number {
	if angle {
		return degrees(s1.Angle(v))
	}
	return l.of(v)
}

// paths returns the keys of some observations.
func paths(r *reconcile.Result, list []int) []string {
	out := []string{}
	for _, i := range list {
		out = append(out, r.Observations[i].Key)
	}
	return out
}

func foundMarkOf(in lengths, r *reconcile.Result, f *reconcile.Found) foundMarkJSON {
	out := foundMarkJSON{Name: r.Setup.Checks.Marks[f.Mark].Name}
	for i, v := range f.PlusMinus {
		out.PlusMinus[i] = in.of(v)
	}
	if !f.Open {
		out.At = new(in.space(f.At))
	}
	if f.Mirror != nil {
		out.Mirror = new(in.space(*f.Mirror))
	}
	return out
}

func adviceOf(in lengths, r *reconcile.Result, c reconcile.Check) adviceJSON {
	out := adviceJSON{From: c.From, To: c.To, Tells: paths(r, c.Tells)}
	if c.Turn {
		out.Column = new(degrees(c.Column))
	} else {
		out.Distance = new(in.of(c.Distance))
	}
	return out
}
