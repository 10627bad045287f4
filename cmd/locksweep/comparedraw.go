package main

import (
	"github.com/spf13/pflag"

	"locksweep/geometry/sweep"
	"locksweep/render/compareview"
	"locksweep/render/sheet"
)

// compareDrawings is which drawings of a comparison are wanted, each by its file.
type compareDrawings struct {
	overlay, charts, slide, plot string
	slideAngle                   float64
	turn, paper                  string
}

func (f *compareDrawings) register(flags *pflag.FlagSet) {
	flags.StringVar(&f.overlay, "overlay", "", "draw them on one another, from above, to `FILE`")
	flags.StringVar(&f.charts, "charts", "", "draw their curves in common charts to `FILE`")
	flags.StringVar(&f.slide, "slide", "", "draw each held in a slide, at most four, to `FILE`")
	flags.StringVar(&f.plot, "plot", "", "draw charts or a map of --vary to `FILE`")
	flags.Float64Var(&f.slideAngle, "slide-angle", 30, "`DEGREES` of the slide that is drawn, at the rear axle")
	flags.StringVar(&f.turn, "turn", "left", "the way that the drawings turn, `left|right`")
	flags.StringVar(&f.paper, "paper", "a4", "`PAPER`: a4, a3, letter, tabloid; -landscape turns it")
}

// drawings returns what is to be drawn, by file, in a fixed order; axes is how many values are varied.
func (f *compareDrawings) drawings(axes int) (list []compareDrawing, err error) {
	d, err := f.direction(axes)
	if err != nil {
		return nil, err
	}
	angle := degreesOf(f.slideAngle)
	for _, w := range []compareDrawing{
		{f.overlay, func(c *compared, opt sheet.Options) (*sheet.Sheet, error) {
			return compareview.Overlay(c.Comparison, d, opt)
		}},
		{f.charts, func(c *compared, opt sheet.Options) (*sheet.Sheet, error) {
			return compareview.Charts(c.Comparison, d, opt)
		}},
		{f.slide, func(c *compared, opt sheet.Options) (*sheet.Sheet, error) {
			opt.Paper = opt.Paper.Landscape() // a path is wider than it is long
			return compareview.Slide(c.Comparison, d, angle, opt)
		}},
		{f.plot, func(c *compared, opt sheet.Options) (*sheet.Sheet, error) {
			return compareview.Varied(c.Comparison, c.Axes, c.figures, c.title, opt)
		}},
	} {
		if w.path != "" {
			list = append(list, w)
		}
	}
	return list, nil
}

// direction reads which way the drawings turn, and checks what goes with what.
func (f *compareDrawings) direction(axes int) (sweep.Direction, error) {
	switch {
	case !(f.slideAngle >= 0 && f.slideAngle <= 90):
		return 0, usagef("--slide-angle %g: should be between 0 and 90 degrees", f.slideAngle)
	case axes > 0 && f.overlay+f.charts+f.slide != "":
		return 0, usagef("--overlay, --charts and --slide draw setups, not a range; --plot draws what --vary gives")
	case axes == 0 && f.plot != "":
		return 0, usagef("--plot draws what --vary gives; name a value with --vary 'KEY=FROM..TO/N'")
	}
	switch f.turn {
	case "left":
		return sweep.ToLeft, nil
	case "right":
		return sweep.ToRight, nil
	}
	return 0, usagef("--turn %s: should be left or right", f.turn)
}

// compareDrawing is a drawing of a comparison and where it goes.
type compareDrawing struct {
	path string
	draw func(c *compared, opt sheet.Options) (*sheet.Sheet, error)
}
