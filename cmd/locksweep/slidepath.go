package main

import (
	"github.com/golang/geo/s1"
	"github.com/spf13/pflag"

	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// slideFlags say what slides are looked at on.
type slideFlags struct{ radius, frontSlip, outerWeight float64 }

func (f *slideFlags) register(flags *pflag.FlagSet) {
	flags.Float64Var(&f.radius, "radius", 0, "`LENGTH` of a slide's path, radius; left out: 4000 mm, or 160 in, for a long vehicle twice its wheelbase")
	flags.Float64Var(&f.frontSlip, "front-slip", 0, "`DEGREES` that the front tyres slip in a slide; 0: they roll free")
	flags.Float64Var(&f.outerWeight, "outer-weight", 0, "`SHARE` of the front wheels' weight on the outer one, 0.5 to 1; left out: alike")
}

// path returns what slides are looked at on, for vehicles of up to a wheelbase, mm.
func (f *slideFlags) path(u setup.Unit, wheelbase float64) (path road.Slide, err error) {
	path.FrontSlip, path.OuterWeight = s1.Angle(f.frontSlip)*s1.Degree, f.outerWeight
	switch {
	case !(f.frontSlip >= 0 && f.frontSlip <= 30):
		return path, usagef("--front-slip %g: should be from 0 to 30 degrees", f.frontSlip)
	case f.outerWeight != 0 && !(f.outerWeight >= 0.5 && f.outerWeight <= 1):
		return path, usagef("--outer-weight %g: should be from 0.5, both wheels alike, to 1, all on the outer one", f.outerWeight)
	case f.radius == 0:
		path.Radius = sweep.SlideRadius(u, wheelbase)
		return path, nil
	}
	if path.Radius = u.ToMM(f.radius); path.Radius >= wheelbase && path.Radius <= 1e6 {
		return path, nil
	}
	return path, usagef("--radius %g: should be at least the wheelbase, %.6g %s, and at most a kilometre", f.radius, u.FromMM(wheelbase), u)
}
