package export

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"io"
	"math"
	"slices"
	"strings"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// Compared is what is compared and where it comes from.
type Compared struct {
	*compare.Comparison
	Unit    setup.Unit     // of all figures
	Sources []Source       // by entry
	Axes    []compare.Axis // that are varied
	Until   *Until         // what was looked for; nil where nothing was
	Changes [][]string     // by entry: what sets it apart
}

// Until is a value looked for at which a figure is as wanted.
type Until struct {
	Key, Figure string          // of what is varied, and of the figure
	Wanted      float64         // as it was written: in the file's unit, degrees, turns or percent
	Found       *compare.Sought // in the file's unit and degrees, but for Gap, which is in mm and radians
}

// compareJSON is the object that compare --json prints. Keys are fixed; more may be added.
type compareJSON struct {
	Format      string        `json:"format"`
	LengthUnit  string        `json:"length_unit"` // of the first setup, for all of them
	AngleUnit   string        `json:"angle_unit"`
	Radius      number        `json:"slide_radius"`
	FrontSlip   number        `json:"front_slip"`
	OuterWeight number        `json:"outer_weight"`   // the share of the front wheels' weight that the outer one bears
	Vary        []varyJSON    `json:"vary,omitempty"` // the second runs faster through setups
	Until       *untilJSON    `json:"until,omitempty"`
	Reference   *string       `json:"reference"` // that differences are to
	BestFor     bestForJSON   `json:"best_for"`
	Setups      []comparedOne `json:"setups"`
}

// bestForJSON is which sound setup is best for what; null where none is sound or none has the figure.
type bestForJSON struct {
	Tight   *verdictJSON `json:"turning_tight"`
	True    *verdictJSON `json:"turning_true"`
	Sliding *verdictJSON `json:"slide"`
}

// verdictJSON is a best setup with the reason and the price.
type verdictJSON struct {
	worthJSON
	AsGood []string   `json:"as_good"`
	Next   *worthJSON `json:"next"`
	Costs  []costJSON `json:"costs"`
}

// costJSON is a figure in which another sound setup is better than the best.
type costJSON struct {
	worthJSON
	Than worthJSON `json:"than"`
}

// worthJSON is the figure of a setup that decides, the worse of both ways.
type worthJSON struct {
	Setup  string `json:"setup"`
	Figure string `json:"figure"`
	Value  number `json:"value"`
}

type varyJSON struct {
	Key    string   `json:"key"`
	Values []number `json:"values"`
}

// comparedOne is one setup of a comparison. Figures, differences and best are by key of the figure.
type comparedOne struct {
	Name       string                `json:"name"`
	File       string                `json:"file"`
	Variant    string                `json:"variant,omitempty"`
	Set        []string              `json:"set,omitempty"`
	Changes    []string              `json:"changes"`
	Error      *string               `json:"error"`
	Figures    map[string]any        `json:"figures"`
	Difference map[string]any        `json:"difference"`
	Best       []string              `json:"best"`
	Unsound    []string              `json:"unsound"` // codes
	Limits     *bySide[*limitJSON]   `json:"limits"`
	Slides     *bySide[[]slideAngle] `json:"slides"`
	Warnings   []warningJSON         `json:"warnings"`
}

// slideAngle is how the vehicle is held at a slide angle, the slips of the front wheels adding up to nought.
type slideAngle struct {
	Slide  number         `json:"slide"`
	Column number         `json:"column"`
	Free   bySide[number] `json:"free"`
	Steer  bySide[number] `json:"steer"`
	Apart  number         `json:"apart"`
}

// comparedJSON puts a comparison into the form of the machine-readable output, but for its setups.
func comparedJSON(c *Compared) *compareJSON {
	out := &compareJSON{
		Format: "locksweep.compare/1", LengthUnit: c.Unit.String(), AngleUnit: "deg",
		Radius: lengths{c.Unit}.of(c.Path.Radius), FrontSlip: degrees(c.Path.FrontSlip), OuterWeight: outerWeight(c.Path),
		Until: c.Until.json(), BestFor: c.bestFor(), Setups: []comparedOne{},
	}
	if c.Reference >= 0 {
		out.Reference = &c.Entries[c.Reference].Name
	}
	for _, a := range c.Axes {
		out.Vary = append(out.Vary, varyJSON{a.Key, numbers(a.Values)})
	}
	return out
}

// WriteJSON writes the machine-readable output, setup by setup, so that there is never more of it in memory than one.
func (c *Compared) WriteJSON(w io.Writer) error {
	const none = "[]\n}\n"    // how it ends without any setup, indented
	out := bufio.NewWriter(w) // which keeps its first error
	out.Write(bytes.TrimSuffix(encode(comparedJSON(c)), []byte(none)))
	before := "[\n  "
	for i := range c.Entries {
		out.WriteString(before)
		if _, err := out.Write(bytes.TrimSuffix(encodeIndented(c.one(i), "  "), []byte("\n"))); err != nil {
			return err
		}
		before = ",\n  "
	}
	out.WriteString("\n ]\n}\n")
	return out.Flush()
}

// bestFor puts the verdicts into the form of the output.
func (c *Compared) bestFor() (out bestForJSON) {
	worth := func(k *compare.Criterion, i int) worthJSON {
		return worthJSON{c.Entries[i].Name, k.Key, outputOf(c.Unit, k.Kind, k.Values[i])}
	}
	today := 0 // the entry that changes nothing
	if len(c.Axes) > 0 {
		today = -1
	}
	for _, v := range c.Verdicts(today) {
		said := &verdictJSON{worthJSON: worth(v.By, v.Best), AsGood: []string{}, Costs: []costJSON{}}
		for _, i := range v.AsGood {
			said.AsGood = append(said.AsGood, c.Entries[i].Name)
		}
		if v.Next >= 0 {
			said.Next = new(worth(v.By, v.Next))
		}
		for _, k := range v.Costs {
			said.Costs = append(said.Costs, costJSON{worth(k.Criterion, v.Best), worth(k.Criterion, k.Than)})
		}
		*[3]**verdictJSON{compare.Tight: &out.Tight, compare.True: &out.True, compare.Sliding: &out.Sliding}[v.Aim] = said
	}
	return out
}

func (c *Compared) one(i int) comparedOne {
	e := &c.Entries[i]
	one := comparedOne{
		Name: e.Name, File: c.Sources[i].File, Variant: c.Sources[i].Variant, Set: c.Sources[i].Set,
		Changes: append([]string{}, c.Changes[i]...), Best: []string{}, Unsound: []string{}, Warnings: []warningJSON{},
	}
	if e.Err != nil {
		one.Error = new(wording.Error(e.Err).Error())
		return one
	}
	one.Unsound = unsound(e)
	one.Figures = map[string]any{}
	if i != c.Reference {
		one.Difference = map[string]any{}
	}
	for k := range c.Rows {
		row := &c.Rows[k]
		one.Figures[row.Key] = c.split(row, func(side int) float64 { return row.Values[i][side] })
		if one.Difference != nil {
			one.Difference[row.Key] = c.split(row, func(side int) float64 { return c.Differs(row, i, side) })
		}
		if row.Best[i][0] || row.Best[i][1] {
			one.Best = append(one.Best, row.Key)
		}
	}
	one.Limits = new(each(func(d sweep.Direction) *limitJSON { return c.limit(e, d) }))
	one.Slides = new(each(func(d sweep.Direction) []slideAngle { return slideAngles(e.Slides[d]) }))
	one.Warnings = new(Source).found(e.Result, whole)
	return one
}

// unsound lists the codes of an entry's faults, each once.
func unsound(e *compare.Entry) []string {
	codes := []string{}
	for _, f := range e.Faults {
		if code := string(f.Code); !slices.Contains(codes, code) {
			codes = append(codes, code)
		}
	}
	return codes
}

// split is a figure as it stands in the JSON: one number, or one by direction or side.
func (c *Compared) split(row *compare.Row, of func(side int) float64) any {
	out := each(func(side int) number { return outputOf(c.Unit, row.Kind, of(side)) })
	if row.Split == compare.Single {
		return out.Left
	}
	return out
}

// outputOf returns a value of a figure in the units of the output.
func outputOf(u setup.Unit, kind compare.Kind, v float64) number {
	switch kind {
	case compare.Angle:
		return number(v * 180 / math.Pi)
	case compare.Length, compare.Ground:
		return lengths{u}.of(v)
	}
	return number(v)
}

// limit is what stops an entry, its lengths in the unit of the comparison; nil where nothing does.
func (c *Compared) limit(e *compare.Entry, d sweep.Direction) *limitJSON {
	l := firstOf(e.Result.Model, &e.Result.Locks[d])
	if l != nil && l.Point != nil {
		*l.Point = lengths{c.Unit}.space(e.Result.Locks[d].First().Point)
	}
	return l
}

func slideAngles(poses []sweep.SlidePose) []slideAngle {
	list := make([]slideAngle, len(poses))
	for i := range poses {
		p := &poses[i]
		list[i] = slideAngle{
			Slide: degrees(p.Slide.Angle), Column: degrees(p.Column), Apart: degrees(p.Apart),
			Free:  angles(p.Free),
			Steer: each(func(s setup.Side) number { return degrees(p.Wheels[s].Steer) }),
		}
	}
	return list
}

// CSV writes a row a setup: its figures under their keys with units, empty where there is none.
func (c *Compared) CSV() []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Write(append(append([]string{"setup", "file", "variant", "error"}, c.csvHead()...), "unsound"))
	for i := range c.Entries {
		e, src := &c.Entries[i], &c.Sources[i]
		row := []string{guarded(e.Name), guarded(src.File), guarded(src.Variant), ""}
		if e.Err != nil {
			row[3] = guarded(wording.Error(e.Err).Error())
		}
		w.Write(append(append(row, c.csvCells(i)...), strings.Join(unsound(e), " ")))
	}
	w.Flush()
	return b.Bytes()
}

// csvHead names the columns of the figures.
func (c *Compared) csvHead() (names []string) {
	length := " (" + c.Unit.String() + ")"
	units := [7]string{compare.Angle: " (deg)", compare.Length: length, compare.Ground: length, compare.Force: " (N)"}
	for k := range c.Rows {
		row := &c.Rows[k]
		if row.Split == compare.Single {
			names = append(names, row.Key+units[row.Kind])
			continue
		}
		for _, side := range setup.Sides {
			names = append(names, row.Key+" "+side.String()+units[row.Kind])
		}
	}
	return names
}

func (c *Compared) csvCells(i int) (cells []string) {
	for k := range c.Rows {
		row := &c.Rows[k]
		for side, v := range row.Values[i] {
			if side == 0 || row.Split != compare.Single {
				cells = append(cells, outputOf(c.Unit, row.Kind, v).String())
			}
		}
	}
	return cells
}

// untilJSON is what --until found, in the file's unit and in degrees.
type untilJSON struct {
	Key     string   `json:"key"`
	Figure  string   `json:"figure"`
	Wanted  number   `json:"wanted"`
	Met     []number `json:"met"`
	Nearest number   `json:"nearest"`
	Turns   []number `json:"turns_round"`
	Jumps   []number `json:"jumps"`
}

func (w *Until) json() *untilJSON {
	if w == nil {
		return nil
	}
	f := w.Found
	return &untilJSON{w.Key, w.Figure, number(w.Wanted), numbers(f.Met), number(f.Nearest), numbers(f.Turns), numbers(f.Jumps)}
}
