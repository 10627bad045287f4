package export

import (
	"math"

	"github.com/golang/geo/r2"

	"locksweep/geometry/grind"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// grindJSON is the object that grind --json prints. Keys are fixed; more may be added.
type grindJSON struct {
	headJSON
	MassUnit   string                 `json:"mass_unit"`
	Measure    string                 `json:"measure"` // of target and reached: lock or column
	Target     number                 `json:"target"`
	Reached    number                 `json:"reached"`   // null where the target is refused
	Clearance  number                 `json:"clearance"` // wanted
	Cuts       []cutJSON              `json:"cuts"`
	Before     bySide[*grindLockJSON] `json:"before"`
	After      bySide[*grindLockJSON] `json:"after"`
	Gain       bySide[number]         `json:"gain"`
	Next       *nextJSON              `json:"next_limit"`
	NextBySide bySide[*nextJSON]      `json:"next_limits"`
	Most       bySide[*mostJSON]      `json:"most"`
	Stops      bySide[*stopJSON]      `json:"stops"`
	Curve      []curveJSON            `json:"curve"`
	Refused    *string                `json:"refused"`  // null where the target is not refused
	Warnings   []warningJSON          `json:"warnings"` // of the setup as it stands
}

type cutJSON struct {
	Part      string            `json:"part"`
	Side      *string           `json:"side"`
	Depth     number            `json:"depth"`
	StopDepth bySide[number]    `json:"stop_depth"` // where it is the stop, by direction; null where it is none
	Area      number            `json:"area"`
	Mass      number            `json:"mass"`
	Wall      number            `json:"wall"`
	WallOff   number            `json:"wall_plus_minus"` // null where the file does not say how exact it is
	LeastWall number            `json:"least_wall"`
	AreaLeft  number            `json:"area_left"`
	ShareLeft number            `json:"share_left"` // 0 to 1
	WidthLeft number            `json:"width_left"` // least, from where it is touched to the root; null where it is no stop
	LeastWide number            `json:"least_width"`
	Root      *rootJSON         `json:"root"`
	Stop      []string          `json:"stop"` // the directions in which it is the stop
	CutAway   bool              `json:"cut_away"`
	Passes    number            `json:"passes"`    // null where it is cut only for what it stops
	Clearance number            `json:"clearance"` // that the fresh sweep finds
	For       []string          `json:"for"`
	Outline   [][2]number       `json:"outline"`
	Deepest   []biteJSON        `json:"bites"`
	Corners   []innerCornerJSON `json:"inner_corners"`
	Tips      []tipJSON         `json:"thin_metal"`
	Catches   bool              `json:"catches"` // what it stops may catch on metal beside its face that cannot go
}

// tipJSON is thin metal that the cut would leave at a place.
type tipJSON struct {
	At  [2]number `json:"at"`
	Off bool      `json:"cut_off"`
}

// innerCornerJSON is an inner corner that is sharper than a disc gets into.
type innerCornerJSON struct {
	At    [2]number   `json:"at"`
	Round *reliefJSON `json:"round"` // the hole with its edge through the corner; null where it would change what stops the wheels
}

type reliefJSON struct {
	At       [2]number `json:"at"`
	Diameter number    `json:"diameter"`
	Drill    bool      `json:"drill"` // before anything is ground; else by file
}

// rootJSON is what a plate hangs on: an edge, or its middle about the kingpin.
type rootJSON struct {
	Edge    [][2]number `json:"edge"` // null at the kingpin
	Assumed bool        `json:"assumed"`
}

// biteJSON is one area to take off: where it is deepest, from a point of one outline to the nearest of the other.
type biteJSON struct {
	Depth  number    `json:"depth"`
	Area   number    `json:"area"`
	From   [2]number `json:"from"`
	To     [2]number `json:"to"`
	Stop   []string  `json:"stop"`   // the directions in which its face is the stop
	Clears []string  `json:"clears"` // what it takes more for than a stop asks
}

type grindLockJSON struct {
	Column        number     `json:"column"`
	Inner         number     `json:"inner"`
	TurningCircle number     `json:"turning_circle"`
	Balanced      number     `json:"turning_circle_balanced"`
	SlideHeld     number     `json:"slide_held"`
	Limit         *limitJSON `json:"limit"`
}

// nextJSON is a limit with the way to it.
type nextJSON struct {
	Turning string `json:"turning"`
	Inner   number `json:"inner"`
	Beyond  number `json:"beyond"` // of the target, degrees of the inner wheel
	limitJSON
}

type mostJSON struct {
	Inner  number `json:"inner"`
	Column number `json:"column"`
	Reason string `json:"reason"`
}

type stopJSON struct {
	InTime bool     `json:"in_time"`
	Inner  number   `json:"inner"`  // at which metal stops; null where none does
	Latest number   `json:"latest"` // at which it must have stopped; null where nothing asks for it
	Advice string   `json:"advice,omitempty"`
	Margin number   `json:"margin"`           // of the inner wheel to what touches next and is no stop; null where nothing does, or another stop comes before
	Off    number   `json:"plus_minus"`       // of the inner wheel when metal stops
	Lost   number   `json:"second_stop_lost"` // inner wheel at a second stop that goes for the clearance alone; null for none
	Pad    *padJSON `json:"pad"`
}

type padJSON struct {
	On        string      `json:"on"`
	Side      string      `json:"side"`
	At        [2]number   `json:"at"`
	Width     number      `json:"width"`
	Thickness number      `json:"thickness"`
	Outline   [][2]number `json:"outline"`
	Meets     string      `json:"meets"`
	Inner     number      `json:"inner"`
}

type curveJSON struct {
	Depth number `json:"depth"`
	Lock  number `json:"lock"` // that both directions reach
	Left  number `json:"left"`
	Right number `json:"right"`
}

// planned begins the object for a plan, as far as it was made.
func planned(p *grind.Plan, src *Source) *grindJSON {
	in := lengths{p.Model.Setup.Unit}
	out := &grindJSON{
		headJSON: src.head("locksweep.grind/1", p.Model.Setup), MassUnit: "kg", Measure: "lock",
		Target: degrees(p.Target.Angle), Reached: unknown, Clearance: in.of(p.Clearance), Cuts: []cutJSON{}, Curve: []curveJSON{},
		Gain:     bySide[number]{unknown, unknown},
		Warnings: src.said(p.Model, &p.Before),
	}
	if p.Target.Measure == grind.ByColumn {
		out.Measure = "column"
	}
	out.Before = each(func(d sweep.Direction) *grindLockJSON { return grindLock(p, p.Model, &p.Before[d], d) })
	out.Most = each(func(d sweep.Direction) *mostJSON {
		m := &p.Most[d]
		return &mostJSON{degrees(m.Steer), degrees(m.Column), wording.Blocks(p.Model, m)}
	})
	return out
}

// Grind returns a plan for grinding as JSON.
func Grind(p *grind.Plan, src *Source) []byte { return encode(ground(p, src)) }

// Refused returns a target out of reach as JSON.
func Refused(b *grind.BeyondError, src *Source) []byte {
	out := planned(b.Plan, src)
	out.Refused = new(wording.Beyond(b))
	if b.Plan.After != nil { // a pad is proposed
		out.Stops = stopsOf(b.Plan)
	}
	return encode(out)
}

// ground is the object for a plan.
func ground(p *grind.Plan, src *Source) *grindJSON {
	out := planned(p, src)
	in := lengths{p.Model.Setup.Unit}
	out.Reached = degrees(p.Reached())
	for _, c := range p.Cuts {
		out.Cuts = append(out.Cuts, cutOf(in, p, c))
	}
	out.After = each(func(d sweep.Direction) *grindLockJSON { return grindLock(p, p.After, &p.Locks[d], d) })
	out.Gain = each(func(d sweep.Direction) number { return degrees(p.Lock(d, true) - p.Lock(d, false)) })
	out.NextBySide = each(func(d sweep.Direction) *nextJSON { return nextOf(p, d) })
	out.Next = out.NextBySide.Left
	if r := out.NextBySide.Right; out.Next == nil || r != nil && r.Beyond < out.Next.Beyond {
		out.Next = r
	}
	out.Stops = stopsOf(p)
	for _, s := range p.Curve {
		out.Curve = append(out.Curve, curveJSON{in.of(s.Depth), degrees(s.Lesser()), degrees(s.Lock[0]), degrees(s.Lock[1])})
	}
	return out
}

func (l lengths) outline(ring []r2.Point) [][2]number {
	out := make([][2]number, len(ring))
	for i, p := range ring {
		out[i] = l.point(p)
	}
	return out
}

func (l lengths) point(p r2.Point) [2]number { return [2]number{l.of(p.X), l.of(p.Y)} }

// cornersOf are the inner corners of a cut that are sharper than a disc gets into.
func cornersOf(in lengths, c *grind.Cut) []innerCornerJSON {
	list := []innerCornerJSON{}
	for _, corner := range c.Corners {
		one := innerCornerJSON{At: in.point(corner.At)}
		if c.Eased {
			one.Round = &reliefJSON{in.point(corner.Hole), in.of(grind.CornerRound(in.unit)), corner.Drill}
		}
		list = append(list, one)
	}
	return list
}

func cutOf(in lengths, p *grind.Plan, c *grind.Cut) cutJSON {
	piece := &p.Model.Scene.Pieces[c.Piece]
	square := in.unit.FromMM(in.unit.FromMM(1))
	out := cutJSON{
		Part: piece.Name, Depth: in.of(c.Depth), Area: number(c.Area * square), Mass: number(c.Mass),
		Wall: in.of(c.Wall.Left()), WallOff: unknown, LeastWall: in.of(c.Wall.Least()), Clearance: in.of(c.Clearance), Outline: in.outline(c.After),
		AreaLeft: number(c.Left * square), ShareLeft: number(c.Share), WidthLeft: in.of(c.Width), LeastWide: in.of(c.LeastWide),
		Root: &rootJSON{Assumed: c.Root.Assumed}, Stop: ways(c.Stops), StopDepth: in.both(c.StopDepth), For: labels(p, c.Obstacles),
		CutAway: c.Past == grind.PastNarrow || c.Past == grind.PastBrush, Passes: in.of(c.Passes), Catches: c.Catches,
		Corners: cornersOf(in, c), Tips: []tipJSON{},
	}
	if p.Model.Setup.Accuracy.Given && !math.IsNaN(c.Wall.Left()) {
		out.WallOff = in.of(p.WallPlusMinus(c))
	}
	if !c.Root.Kingpin {
		out.Root.Edge = in.outline(c.Root.Edge[:])
	}
	if piece.Sided {
		out.Side = new(piece.Side.String())
	}
	for _, t := range c.Tips {
		out.Tips = append(out.Tips, tipJSON{in.point(t.At), t.Off})
	}
	for _, b := range c.Bites {
		out.Deepest = append(out.Deepest, biteJSON{in.of(b.Depth), number(b.Area * square), in.point(b.At[0]), in.point(b.At[1]), ways(b.Stops), labels(p, b.Clears)})
	}
	return out
}

// labels names pieces; never nil.
func labels(p *grind.Plan, pieces []int) []string {
	names := []string{}
	for _, i := range pieces {
		names = append(names, p.Model.Scene.Pieces[i].Label())
	}
	return names
}

// ways names directions.
func ways(which [2]bool) []string {
	names := []string{}
	for _, d := range sweep.Directions {
		if which[d] {
			names = append(names, d.String())
		}
	}
	return names
}

func grindLock(p *grind.Plan, m *sweep.Model, lock *sweep.Lock, d sweep.Direction) *grindLockJSON {
	in := lengths{m.Setup.Unit}
	figures := m.Figures(&lock.Pose)
	return &grindLockJSON{
		Column: degrees(lock.Column), Inner: degrees(p.SteerAt(d, lock.Column)),
		TurningCircle: in.of(figures.Outer.OverFrontTyres), Balanced: in.of(figures.Circle.OverFrontTyres), SlideHeld: degrees(grind.SlideHeld(m, lock)),
		Limit: firstOf(m, lock),
	}
}

func nextOf(p *grind.Plan, d sweep.Direction) *nextJSON {
	first := p.Locks[d].First()
	if first == nil {
		return nil
	}
	steer := p.SteerAt(d, first.Column)
	return &nextJSON{d.String(), degrees(steer), degrees(steer - p.Steer[d]), limitOf(p.After, first)}
}

func stopsOf(p *grind.Plan) bySide[*stopJSON] {
	return each(func(d sweep.Direction) *stopJSON { return stopOf(p, d) })
}

func stopOf(p *grind.Plan, d sweep.Direction) *stopJSON {
	in, s := lengths{p.Model.Setup.Unit}, &p.Stops[d]
	out := &stopJSON{
		InTime: !s.Missing(), Inner: unknown, Latest: degrees(s.Latest), Advice: wording.StopAdvice(p, d),
		Margin: unknown, Off: degrees(s.PlusMinus), Lost: unknown,
	}
	if s.Next != nil {
		out.Margin = degrees(s.Margin)
	}
	if s.Spare != nil {
		out.Lost = degrees(p.SteerAt(d, s.Spare.Column))
	}
	if s.Metal != nil {
		out.Inner = degrees(s.Steer)
	}
	if at := s.Pad; at != nil {
		host := &p.After.Scene.Pieces[at.Piece]
		out.Pad = &padJSON{
			On: host.Name, Side: host.Side.String(), At: in.point(at.At),
			Width: in.of(at.Pad.Width), Thickness: in.of(at.Pad.Thickness), Outline: in.outline(at.Outline),
			Meets: p.After.Scene.Pieces[at.Meets].Label(), Inner: degrees(at.Lock),
		}
	}
	return out
}
