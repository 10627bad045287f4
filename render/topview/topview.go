// Package topview draws a setup from above, to scale: straight ahead with both locks, or at one pose with
// its axle lines and turn centre. It lays out what sweep and plan have found and computes nothing.
package topview

import (
	"fmt"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/plan"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// Options says how to draw.
type Options struct {
	Paper   sheet.Size
	Scale   sheet.Scale // 0: the largest of ISO 5455 that fits
	Pose    *s1.Angle   // column angle; nil: straight ahead with both locks
	Keys    bool        // dimensions carry the names of the file's keys: for measuring
	Program string
}

// Draw draws a sweep on one sheet. The error says that the linkage does not reach the pose asked for,
// or that the scale is too large for the paper.
func Draw(r *sweep.Result, opt Options) ([]byte, error) {
	s, err := Sheet(r, opt)
	if err != nil {
		return nil, err
	}
	return s.Bytes(), nil
}

// Sheet is Draw before the sheet is closed.
func Sheet(r *sweep.Result, opt Options) (*sheet.Sheet, error) {
	d := drawing{r: r, opt: opt, pose: r.Straight}
	if opt.Pose != nil {
		var ok bool
		if d.pose, ok = r.Pose(*opt.Pose); !ok {
			return nil, fmt.Errorf("the linkage does not reach %s of column angle", wording.Angle(*opt.Pose))
		}
	}
	if err := d.see(); err != nil {
		return nil, err
	}
	d.sheet = sheet.New(opt.Paper, d.title())
	d.sheet.Inches = r.Setup.Unit.String() == "in"
	if err := d.place(); err != nil {
		return nil, err
	}
	d.draw()
	d.notes()
	return d.sheet, nil
}

// drawing is one top view in the making.
type drawing struct {
	r        *sweep.Result
	opt      Options
	pose     sweep.Pose
	outlines []plan.Outline // at the pose, highest first
	locks    [2][]ghost     // what moves, at either lock
	swept    [][][]r2.Point
	sheet    *sheet.Sheet
	view     *sheet.Panel
	model    r2.Rect // what must be on the sheet, vehicle mm
	below    r2.Rect // paper left for words
}

// ghost is a piece at another pose.
type ghost struct {
	piece int
	rings [][]r2.Point
}

// see takes from the geometry what is to be drawn.
func (d *drawing) see() (err error) {
	scene := d.r.Scene
	if d.outlines, err = plan.At(scene, &d.pose.Pose); err != nil {
		return err
	}
	d.model = r2.EmptyRect()
	for _, o := range d.outlines {
		d.include(o.Rings)
	}
	if d.opt.Pose != nil {
		return nil
	}
	for _, dir := range sweep.Directions {
		for i := range scene.Pieces {
			if !moves(&scene.Pieces[i]) {
				continue
			}
			rings, err := plan.Silhouette(scene, i, &d.r.Locks[dir].Pose.Pose)
			if err != nil {
				return err
			}
			d.locks[dir] = append(d.locks[dir], ghost{i, rings})
			d.include(rings)
		}
	}
	return d.sweepGround()
}

// sweepGround takes what the moving pieces sweep between the locks.
func (d *drawing) sweepGround() error {
	poses := make([]linkage.Pose, len(d.r.Poses))
	for i := range poses {
		poses[i] = d.r.Poses[i].Pose
	}
	for i := range d.r.Scene.Pieces {
		if p := &d.r.Scene.Pieces[i]; p.Part != nil || !moves(p) || !sweepsGround(p) {
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

func (d *drawing) include(rings [][]r2.Point) {
	for _, ring := range rings {
		for _, p := range ring {
			d.model = d.model.AddPoint(p)
		}
	}
}

func (d *drawing) title() sheet.Title {
	what := "Top view, straight ahead with both locks"
	if d.opt.Pose != nil {
		what = "Top view at " + wording.Angle(*d.opt.Pose) + " of column angle"
	}
	return sheet.Title{
		Title: what, Subtitle: d.r.Setup.Name, Program: d.opt.Program,
		Note: wording.Caution, Desc: what + " of " + d.r.Setup.Name + ". " + wording.Answer(d.r),
	}
}

// dimRoom is the paper kept round the vehicle for dimensions and labels, mm.
const dimRoom = 19.0

// place settles scale and places on the paper: the vehicle above, the words below it.
func (d *drawing) place() error {
	area := d.sheet.Area().ExpandedByMargin(-3)
	words := d.wordsHeight()
	room := r2.Rect{X: area.X, Y: area.Y}
	room.Y.Hi -= words
	inner := room.ExpandedByMargin(-dimRoom)
	size := d.model.Size()
	scale := d.opt.Scale
	if scale == 0 {
		scale = sheet.FitScale(size.Y, size.X, inner.Size().X, inner.Size().Y)
	}
	if w, h := size.Y*float64(scale), size.X*float64(scale); w > room.Size().X || h > room.Size().Y {
		return fmt.Errorf("at %s the drawing takes %.0f by %.0f mm of paper, and there is room for %.0f by %.0f: choose a smaller scale", scale, w, h, room.Size().X, room.Size().Y)
	}
	d.sheet.Scale = scale
	// The vehicle stands at the top of its room; what height it leaves goes to the words.
	height := size.X*float64(scale) + 2*dimRoom
	d.below = r2.Rect{X: area.X, Y: area.Y}
	if height < room.Size().Y {
		room.Y.Hi = room.Y.Lo + height
	}
	d.below.Y.Lo = room.Y.Hi
	d.view = d.sheet.NewPanel(room, sheet.Centred(room, d.model, sheet.FromAbove, scale))
	return nil
}
