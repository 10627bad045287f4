package drill

import (
	"errors"
	"math"
	"sync"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/grind"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
)

// narrowKart is a kart whose stop plate is to be ground, and whose outer wheel is what stops it, so that a hole off its place takes lock.
const narrowKart = `
locksweep = 1
name = "Narrow kart, spindles swapped"
units = "mm"
[vehicle]
wheelbase = 1045
rear_track = 980
rear_tyre = { diameter = 278, width = 180 }
[kingpin]
spacing = 560
height = 128
inclination = 10
caster = 12
[wheel]
offset = 112
tyre_diameter = 256
tyre_width = 130
[arm]
pickup = [96, -16, -24]
outline = [[15, -12], [15, 12], [-15, 12], [-15, -14], [20, -18], [70, -36], [116, -36], [116, 14], [70, 14]]
up = [-28, -20]
[column]
foot = [50, 0, 84]
rake = 45
[drop_arm]
left = [-60, 20, 8]
right = [-60, -20, 8]
[tie_rod]
diameter = 14
rod_end = { tilt = 24, body = 33, thread = 8, pitch = 1.25 }
[limits]
clearance = 5
[[part]]
name = "stop plate"
on = "spindle"
plate = { outline = [[35, -22], [35, 22], [-35, 22], [-35, -22]], up = [-8, 8] }
stop = true
grind = true
bore = 16
[[part]]
name = "yoke back"
on = "frame"
at = "kingpin"
plate = { outline = [[-30, -70], [30, -70], [30, -36], [-30, -36]], up = [-18, 18] }
`

// narrowTogether are hole and cut for the narrow kart: where more lock is wanted than they give, and where it is wanted as far as is said then.
// Both are searched once.
var narrowTogether = sync.OnceValue(func() (found struct {
	most, asked       *Together
	mostErr, askedErr error
}) {
	s, _, err := setupfile.Read("narrow.toml", []byte(narrowKart), setupfile.Options{})
	if err != nil {
		panic(err)
	}
	aims, opt := Aims{Percent: 100, Lock: 35 * s1.Degree, Tie: Tie{Error: s1.Degree}}, Options{Step: 24, Best: 1}
	if found.most, found.mostErr = SearchTogether(s, Arm, aims, opt); found.most == nil {
		panic(found.mostErr)
	}
	aims.Lock = s1.Angle(math.Floor(found.most.Reach.Degrees()*10)/10) * s1.Degree // as it is told
	found.asked, found.askedErr = SearchTogether(s, Arm, aims, opt)
	return found
})

// TestCutKeepsTheLockWithinTheSlip: a cut for the very place would fall short of the lock with the hole half a millimetre off; the one that is
// planned does not, and keeps every promise, with the cut as it is.
func TestCutKeepsTheLockWithinTheSlip(t *testing.T) {
	s := example.Parse(t, narrowKart)
	both, err := narrowTogether().asked, narrowTogether().askedErr
	if err != nil || both.Best[0].Existing != "" || len(both.Best[0].Alarms) > 0 {
		t.Fatalf("%v: no new hole to drill off", err)
	}
	keepsAnew(t, both.Result, both.Plan.After.Setup, &both.Best[0], 12, 1)
	lock := both.Aims.Lock
	if w := both.Best[0].Within.Lock; w < lock-0.01*s1.Degree || both.Both < w || len(both.Misses) > 0 {
		t.Errorf("lock %v within the slip, %v in the place itself, wanted %v; missed %v", w, both.Both, lock, both.Misses)
	}
	drilled, err := sweep.New(both.Best[0].Fit(s))
	if err != nil {
		t.Fatal(err)
	}
	very := sound(drilled, grind.Target{Measure: grind.BySteer, Angle: lock}, s.Limits.Clearance)
	in := both.searchIn(very.After)
	if w, _ := in.within(in.home()); w.Lock > lock-0.02*s1.Degree {
		t.Errorf("cut for the very place it has %v within the slip: this setup proves nothing", w.Lock)
	}
}

// TestReachIsWhatCanBeAskedFor: where no cut gives the lock it is said how far hole and cut go, and that is what they give when asked for.
func TestReachIsWhatCanBeAskedFor(t *testing.T) {
	most, err := narrowTogether().most, narrowTogether().mostErr
	if !errors.Is(err, ErrNoTogether) || !(most.Reach > 20*s1.Degree && most.Reach < 35*s1.Degree) || most.ReachAt < 0 {
		t.Fatalf("%v, as far as %v at %d", err, most.Reach, most.ReachAt)
	}
	both, err := narrowTogether().asked, narrowTogether().askedErr
	if asked := both.Aims.Lock; err != nil || both.Both < asked-0.01*s1.Degree || len(both.Best[0].Alarms) > 0 {
		t.Errorf("%v asked for as told: %v, %v", asked, err, both.Both)
	}
}
