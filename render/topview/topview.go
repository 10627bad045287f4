// Package topview draws a setup from above, to scale: straight ahead with both locks, at one pose with its
// axle lines and turn centre, or with the names of the setup file's keys for who has to measure. It lays out what
// sweep and plan have found and computes nothing.
package topview

import (
	"errors"
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/plan"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Options says how to draw.
type Options struct {
	sheet.Options
	Scale  sheet.Scale       // of the whole vehicle; 0: the largest of ISO 5455 that fits
	Pose   *s1.Angle         // column angle; nil: straight ahead with both locks
	Keys   bool              // what to measure: dimensions carry the names of the file's keys, Pose does not count
	Swing  bool              // the front axle alone, swinging from lock to lock; Pose and Keys do not count
	Single bool              // all on one sheet, the front axle as large as it has room
	Warned []string          // what is to be looked at before any figure is trusted, the worst first
	Sure   *tolerance.Result // of the same sweep, with draws: both locks with their spread; Pose and Keys are to be empty then
}

// Sheet is Sheets with all on one sheet.
func Sheet(r *sweep.Result, opt Options) (*sheet.Sheet, error) {
	opt.Single = true
	sheets, err := Sheets(r, opt)
	if err != nil {
		return nil, err
	}
	return sheets[0], nil
}

// Sheets draws a sweep: the whole vehicle with its front axle, which has a second sheet where there is no room for it at 1:5. The
// error says that the linkage does not reach the pose asked for, or that the scale is too large for the paper.
func Sheets(r *sweep.Result, opt Options) ([]*sheet.Sheet, error) {
	d := drawing{r: r, opt: opt, pose: r.Straight}
	if opt.Keys || opt.Swing {
		d.opt.Pose = nil
	}
	d.opt.Keys = opt.Keys && !opt.Swing
	if d.opt.Pose != nil {
		var ok bool
		if d.pose, ok = r.Pose(*opt.Pose); !ok {
			return nil, outOfReach(r, *opt.Pose)
		}
	}
	if err := d.see(); err != nil {
		return nil, err
	}
	switch {
	case d.opt.Keys:
		return d.measuring(), nil
	case opt.Swing:
		d.open(opt.Paper, d.title())
		return []*sheet.Sheet{d.sheet}, d.swing(d.sheet.Area().ExpandedByMargin(-edge))
	}
	d.tell()
	axle := d
	enough, err := d.vehicleSheet()
	if err != nil || enough || opt.Single {
		return []*sheet.Sheet{d.sheet}, err
	}
	d.apart = true
	if _, err := d.vehicleSheet(); err != nil {
		return nil, err
	}
	axle.axleSheet()
	return []*sheet.Sheet{d.sheet, axle.sheet}, nil
}

// open begins a sheet.
func (d *drawing) open(paper sheet.Size, title sheet.Title) {
	d.sheet = sheet.New(paper, title)
	d.sheet.Inches = d.r.Setup.Unit == setup.Inch
	d.numbered = nil
	d.heights = map[float64]float64{}
}

// mostPasses is how often a sheet is laid out, each time with room for the list of numbered parts that came out of the last one.
const mostPasses = 4

// vehicleSheet draws the whole vehicle, with its front axle unless that stands apart on a sheet of its own. enough tells that the front
// axle is large enough to measure by; where it is not and may be given a sheet of its own, nothing is drawn.
func (d *drawing) vehicleSheet() (enough bool, err error) {
	d.kept = ""
	for range mostPasses {
		place, err := d.arranged()
		if err != nil {
			return false, err
		}
		enough = max(place.scale, place.closeScale) >= axleScales[0]
		if !enough && !d.apart && !d.opt.Single {
			return false, nil
		}
		d.draw(place)
		if d.words(place.words) {
			break
		}
		d.kept = d.numberList()
	}
	return enough, nil
}

// arranged opens a sheet and arranges it. Where the words leave the vehicle no room, or too little for its labels, warnings are only
// counted, and then alarms only named, if the vehicle comes out larger for that: the report says the rest.
func (d *drawing) arranged() (best places, err error) {
	chosen := 0
	for d.terse = 0; d.terse <= alarmsNamed; d.terse++ {
		d.open(d.opt.Paper, d.title())
		place, none := d.arrange(d.sheet.Area().ExpandedByMargin(-edge))
		if err = none; place.scale > best.scale {
			best, chosen = place, d.terse
		}
		if d.opt.Scale != 0 || best.scale >= leastWhole {
			break
		}
	}
	if best.scale == 0 {
		return best, err
	}
	d.terse = chosen
	d.open(d.opt.Paper, d.title())
	return best, nil
}

// outOfReach says how far the column turns the way it was to go, and what ends it there.
func outOfReach(r *sweep.Result, pose s1.Angle) error {
	dir := sweep.ToLeft
	if pose < 0 {
		dir = sweep.ToRight
	}
	text := fmt.Sprintf("the linkage does not reach %s of steering wheel angle", wording.Angle(pose))
	var least s1.Angle
	ends := ""
	for rod := range r.Linkage.Rods {
		if dead, found := r.Linkage.DeadPoint(rod, dir.Sign()); found && (ends == "" || dead.Abs() < least.Abs()) {
			least, ends = dead, r.Linkage.Rods[rod].Name()
		}
	}
	if ends != "" {
		text += fmt.Sprintf(": turning %s it comes to %s, the dead point of the %s", dir, wording.Angle(least), ends)
	}
	return errors.New(text)
}

// drawing is one top view in the making. Model points are vehicle axes seen from above.
type drawing struct {
	r        *sweep.Result
	opt      Options
	pose     sweep.Pose
	outlines []plan.Outline // at the pose, highest first
	locks    [2][]ghost     // what moves, at either lock
	swept    [][][]r2.Point
	fans     []fan
	marks    [2][]mark           // what stops the steering, each way
	touches  []clearance.Touch   // what touches straight ahead, as far as the head of the sheet names it
	apart    bool                // the front axle has a sheet of its own
	numbered []string            // names of what has a number in its view, from 1
	said     []string            // what stands below the list of limits
	kept     string              // the list of numbers of the pass before, for which room is kept
	heights  map[float64]float64 // of the words by their width, once known: a layout asks for them often
	terse    int                 // what of the words is left out, for want of room: nothing, or as warningsCounted and alarmsNamed say
	sheet    *sheet.Sheet
	whole    r2.Rect // ground that all pieces cover, at the locks too
	linkage  r2.Rect // ground that kingpins, arms, rods and their marked contacts cover
}

// ghost is a piece at another pose.
type ghost struct {
	piece int
	rings [][]r2.Point
}

// mark is a limit with what the list says of it.
type mark struct {
	sweep.Limit
	tag   string   // L1, L2, … turning left
	wheel s1.Angle // of the inner wheel; NaN where it has no meaning
}

// mostMarks is how many limits are listed each way.
const mostMarks = 6

// see takes from the geometry what is to be drawn.
func (d *drawing) see() (err error) {
	if d.outlines, err = plan.At(d.r.Scene, &d.pose.Pose); err != nil {
		return err
	}
	d.whole, d.linkage = r2.EmptyRect(), r2.EmptyRect()
	for i := range d.outlines {
		ground := planar.Bounds(d.outlines[i].Rings...)
		d.whole = d.whole.Union(ground)
		if ofLinkage(&d.r.Scene.Pieces[d.outlines[i].Piece]) {
			d.linkage = d.linkage.Union(ground)
		}
	}
	for _, side := range setup.Sides {
		d.linkage = d.linkage.AddPoint(flat(d.r.Setup.Centre(side)))
	}
	for _, dir := range sweep.Directions {
		d.marks[dir] = d.limits(dir)
	}
	d.touches = d.r.Scene.Touching()
	d.touches = d.touches[:min(len(d.touches), wording.MostTouching)]
	for _, t := range d.touches {
		if d.ofLinkage(t.Pair) {
			d.linkage = d.linkage.AddPoint(flat(t.Point))
		}
	}
	if d.opt.Pose != nil || d.opt.Keys {
		return nil
	}
	for _, dir := range sweep.Directions {
		if err := d.seeLock(dir); err != nil {
			return err
		}
	}
	if d.opt.Swing {
		return nil
	}
	d.seeSpread()
	return d.seeSwept()
}

// seeLock takes what moves as it stands at a lock.
func (d *drawing) seeLock(dir sweep.Direction) error {
	lock := &d.r.Locks[dir]
	if lock.Column == 0 {
		return nil // stands as drawn
	}
	for i := range d.r.Scene.Pieces {
		if !moves(&d.r.Scene.Pieces[i]) {
			continue
		}
		rings, err := plan.Silhouette(d.r.Scene, i, &lock.Pose.Pose)
		if err != nil {
			return err
		}
		d.locks[dir] = append(d.locks[dir], ghost{i, rings})
		d.whole = d.whole.Union(planar.Bounds(rings...))
	}
	return nil
}

// sweptPoses is about how many poses the swept ground is made of: between two of them a tyre's corner strays
// from the drawn edge by less than a line's width on paper.
const sweptPoses = 24

// seeSwept takes the ground that tyres and rods sweep between the locks.
func (d *drawing) seeSwept() error {
	last := len(d.r.Poses) - 1
	var poses []linkage.Pose
	for i := 0; i < last; i += 1 + last/sweptPoses {
		poses = append(poses, d.r.Poses[i].Pose)
	}
	poses = append(poses, d.r.Poses[last].Pose)
	for i := range d.r.Scene.Pieces {
		if p := &d.r.Scene.Pieces[i]; p.Part != nil || p.Name != clearance.Tyre && !p.Body.IsRod() {
			continue
		}
		rings, err := plan.Swept(d.r.Scene, i, poses)
		if err != nil {
			return err
		}
		d.swept = append(d.swept, rings)
	}
	return nil
}

// limits numbers what stops the steering in one direction, and takes what touches into the ground of the linkage.
func (d *drawing) limits(dir sweep.Direction) (marks []mark) {
	chain := d.r.Locks[dir].Chain
	for i, l := range chain[:min(len(chain), mostMarks)] {
		m := mark{Limit: l, tag: fmt.Sprintf("%s%d", [2]string{"L", "R"}[dir], i+1), wheel: s1.Angle(math.NaN())}
		if pose, ok := d.r.Pose(l.Column); ok {
			m.wheel = pose.Turn.InnerSteer
		}
		marks = append(marks, m)
		if m.Kind == sweep.Contact && i < mostPoints && d.ofLinkage(m.Pair) {
			d.linkage = d.linkage.AddPoint(flat(m.Point))
		}
	}
	return marks
}

// ofLinkage reports whether one of a pair of pieces is drawn at the larger scale.
func (d *drawing) ofLinkage(pair [2]int) bool {
	return ofLinkage(&d.r.Scene.Pieces[pair[0]]) || ofLinkage(&d.r.Scene.Pieces[pair[1]])
}

// moves reports whether a piece is not fixed to the frame.
func moves(p *clearance.Piece) bool { return p.Body != linkage.Frame }

// ofLinkage reports whether a piece belongs to what is drawn at the larger scale: arms, rods, and the
// plates on the spindles and at the kingpins.
func ofLinkage(p *clearance.Piece) bool {
	switch {
	case p.Part == nil:
		return p.Steers()
	case p.Part.AtKingpin:
		return true
	}
	return p.Body.IsRod() || p.Part.On == setup.OnSpindle && p.Part.Plate != nil
}

// flat is a point seen from above.
func flat(v r3.Vector) r2.Point { return r2.Point{X: v.X, Y: v.Y} }

// title says what is drawn.
func (d *drawing) title() sheet.Title {
	what, said := "Top view, straight ahead with both locks", wording.Answer(d.r)
	switch {
	case d.opt.Keys:
		what, said = "What to measure", "Every dimension carries the name of its key in the setup file."
	case d.opt.Swing:
		what = "Front axle from above, from lock to lock"
	case d.opt.Pose != nil:
		what, said = "Top view, steering wheel at "+wording.Way(*d.opt.Pose), wording.Pose(d.r, &d.pose)
	case d.opt.Sure != nil:
		what = "Top view: how sure both locks are"
	}
	return wording.Block(what, wording.Title(d.r.Setup), d.opt.Origin, d.loud(), what+" of "+wording.Title(d.r.Setup)+". "+said)
}
