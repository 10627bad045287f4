package wording

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/adjust"
	"locksweep/geometry/reconcile"
	"locksweep/geometry/setup"
)

// Agreement is the answer in one sentence.
func Agreement(r *reconcile.Result) string {
	switch {
	case r.Agrees():
		return "File and kart agree: all that was measured fits, each within its accuracy."
	case r.Mixed != nil:
		return mixedAgreement(r)
	case r.Gross:
		return "File and kart do not agree, and no slip of a likely size in one figure explains it: something is far off. " +
			"Look whether the kart stands as this file and variant say, and for a gross slip in what was measured last."
	case r.Strained:
		return "File and kart do not quite agree: no one figure stands out, but all together are further off than their accuracies allow. " +
			"Are the accuracies too good?"
	}
	first := &r.Suspects[0]
	text := "most probably " + Suspected(r, first)
	if symptom := symptom(r); symptom != "" {
		text = symptom + "; " + text
	}
	text = Capital(text)
	if n := len(r.Suspects) - 1; n > 0 {
		text += fmt.Sprintf(". %s more %s wrong too", Counted(n, "figure"), map[bool]string{true: "is", false: "are"}[n == 1])
	}
	return text + "."
}

// mixedAgreement is the answer where wheels' angles were mixed up.
func mixedAgreement(r *reconcile.Result) string {
	text := "Most probably " + MixedUp(r) + ". Put right they fit; as they were put down they do not."
	if len(r.Suspects) == 0 && !r.Strained && !r.Gross {
		return text
	}
	rest := *r
	rest.Mixed = nil
	return text + " Besides: " + strings.ToLower(Agreement(&rest)[:1]) + Agreement(&rest)[1:]
}

// MixedUp says how wheels' angles were put down.
func MixedUp(r *reconcile.Result) string {
	var at []string
	for _, i := range r.Mixed.Turned {
		at = append(at, Way(r.Setup.Checks.Turned[i].Column))
	}
	where := ""
	if !r.Mixed.All {
		where = " with the steering wheel at " + strings.Join(at, ", ")
	}
	switch r.Mixed.What {
	case reconcile.Exchanged:
		return "left and right of the wheels' angles" + where + " were exchanged when they were put down"
	case reconcile.Reversed:
		return "the wheels' angles" + where + " were put down with the sign reversed: to the left is positive, of both wheels"
	}
	if r.Mixed.All {
		return "the steering wheel was turned the other way than was put down when the wheels were read: to the left is positive"
	}
	return "the steering wheel stood at " + strings.Join(at, ", ") + " and not the other way when the wheels were read: to the left is positive"
}

// AsRead says what would be wrong if wheels' angles that seem mixed up were read as they were put down; empty where that is not known.
func AsRead(r *reconcile.Result) string {
	if o := r.Mixed.AsRead; o != nil && len(o.Suspects) > 0 {
		return "or, if they were read as they were put down, " + Suspected(o, &o.Suspects[0])
	}
	return ""
}

// symptom says what is off by the file that the suspect explains: "left wheel at 20.0° left turns 1.4° further than the file says". It is
// empty where there is no such reading.
func symptom(r *reconcile.Result) string {
	if r.Symptom < 0 {
		return ""
	}
	o := &r.Observations[r.Symptom]
	name, by, more := Observed(r.Setup, o), o.Given-o.Before, "shorter"
	if by > 0 {
		more = "longer"
	}
	switch {
	case o.Kind == reconcile.Turn && by*o.Before >= 0:
		return fmt.Sprintf("%s turns %s further than the file says", name, Angle(s1.Angle(math.Abs(by))))
	case o.Kind == reconcile.Turn:
		return fmt.Sprintf("%s turns %s less than the file says", name, Angle(s1.Angle(math.Abs(by))))
	case o.Kind == reconcile.Rod:
		return fmt.Sprintf("%s is %s %s than its balls are apart by the file", name, Length(r.Setup.Unit, math.Abs(by)), more)
	}
	return fmt.Sprintf("%s is %s %s than the file says", name, Length(r.Setup.Unit, math.Abs(by)), more)
}

// Suspected says what would be so if a suspect were wrong.
func Suspected(r *reconcile.Result, s *reconcile.Suspect) string {
	return blameBoth(r, s.Observation, s.By, s.Both)
}

// blameBoth is blame that tells of what is wrong on both sides alike that it is.
func blameBoth(r *reconcile.Result, observation int, by float64, both bool) string {
	text := blame(r, observation, by)
	if both {
		key := r.Observations[observation].Key
		other := "right"
		if now, _ := r.Setup.Rehung.Stands(key); now != key {
			other = "left"
		}
		text += ", and the " + other + " one as much (" + setup.Printable(key) + ", both sides)"
	}
	return text
}

// blame says what would be so if an observation were wrong, and should be by so much more: "the left pickup is 3.0 mm
// further inboard".
func blame(r *reconcile.Result, observation int, by float64) string {
	o, s := &r.Observations[observation], r.Setup
	u, name := s.Unit, Observed(s, o)
	switch o.Kind {
	case reconcile.Tape:
		return fmt.Sprintf("the tape from %s was misread or put down wrong: %s would fit, not %s", name, Length(u, o.Given+by), Length(u, o.Given))
	case reconcile.Turn:
		return fmt.Sprintf("the %s was misread or put down wrong: %s would fit, not %s", name, Way(s1.Angle(o.Given+by)), Way(s1.Angle(o.Given)))
	case reconcile.Rod:
		return fmt.Sprintf("the %s is %s long, not %s, or another was fitted when the rest was measured", name, Length(u, o.Given+by), Length(u, o.Given))
	case reconcile.Centre:
		return fmt.Sprintf("the steering wheel stood at %s when it was called 0: read again", Way(s1.Angle(by)))
	case reconcile.Column:
		return fmt.Sprintf("the steering wheel stood at %s when the wheels were read at %s: read again", Way(s1.Angle(o.Given+by)), Way(s1.Angle(o.Given)))
	}
	return moved(s, o, by)
}

// What co-ordinates are called, and what it is called where they grow and where they shrink.
var (
	vehicleAxes = [3]string{"forward", "left", "up"}
	vehicleWays = [3][2]string{{"further forward", "further back"}, {"further left", "further right"}, {"higher", "lower"}}
	cornerAxes  = [3]string{"forward", "outboard", "up"}
	cornerWays  = [3][2]string{{"further forward", "further back"}, {"further outboard", "further inboard"}, {"higher", "lower"}}
	columnAxes  = [3]string{"down", "left", "along"}
	columnWays  = [3][2]string{{"further down", "further up"}, {"further left", "further right"}, {"further up the column", "further down the column"}}
)

// points are the figures of the file that are points, by key.
var points = map[string]struct {
	noun string
	axes *[3]string
	ways *[3][2]string
}{
	"arm.pickup":       {"[side] pickup", &cornerAxes, &cornerWays},
	"drag_link.pickup": {"drag link pickup", &cornerAxes, &cornerWays},
	"column.foot":      {"column foot", &vehicleAxes, &vehicleWays},
	"drop_arm.left":    {"left pin", &columnAxes, &columnWays},
	"drop_arm.right":   {"right pin", &columnAxes, &columnWays},
	"drop_arm.pin":     {"pin", &columnAxes, &columnWays},
	"rack.left":        {"left inner ball", &vehicleAxes, &vehicleWays},
	"rack.right":       {"right inner ball", &vehicleAxes, &vehicleWays},
}

// scalars are the others: their names, and what is said of them where they are more and where less.
var scalars = map[string]struct {
	name, moved string
	ways        [2]string
}{
	"kingpin.spacing":            {"kingpin spacing", "the kingpins are %s", [2]string{"further apart", "nearer to each other"}},
	"vehicle.wheelbase":          {"wheelbase", "the wheelbase is %s", [2]string{"longer", "shorter"}},
	"vehicle.rear_track":         {"rear track", "the rear track is %s", [2]string{"wider", "narrower"}},
	"vehicle.rear_tyre.diameter": {"rear tyre diameter", "the rear tyres are %s in diameter", [2]string{"more", "less"}},
	"kingpin.height":             {"[side] kingpin height", "the [side] kingpin centre is %s", [2]string{"higher", "lower"}},
	"kingpin.inclination":        {"[side] inclination", "the [side] kingpin leans %s", [2]string{"more inboard", "less inboard"}},
	"kingpin.caster":             {"[side] caster", "the [side] kingpin leans %s", [2]string{"more rearward", "less rearward"}},
	"wheel.toe":                  {"[side] toe", "the [side] wheel has %s", [2]string{"more toe-in", "less toe-in"}},
	"wheel.camber":               {"[side] camber", "the [side] wheel leans %s", [2]string{"more outboard", "less outboard"}},
	"wheel.offset":               {"[side] offset", "the [side] tyre is %s", [2]string{"further out", "further in"}},
	"wheel.lead":                 {"[side] lead", "the [side] stub axle is %s", [2]string{"further ahead", "further back"}},
	"column.rake":                {"column rake", "the column is %s", [2]string{"steeper", "flatter"}},
	"rack.per_turn":              {"rack per turn", "the rack goes %s for a turn", [2]string{"further", "less far"}},
}

// FiledAs is the file's key of a figure that stands otherwise on the vehicle, since [change] hung it anew; empty where it does not.
func FiledAs(s *setup.Setup, o *reconcile.Observation) string {
	if now, sign := s.Rehung.Stands(o.Key); o.Kind == reconcile.Figure && (now != o.Key || sign < 0) {
		return setup.Printable(o.Key)
	}
	return ""
}

// moved says that a figure of the file should be more by so much: what that is on the vehicle, and where the file has it otherwise.
func moved(s *setup.Setup, o *reconcile.Observation, by float64) string {
	now, sign := s.Rehung.Stands(o.Key)
	text := movedTo(s, o, now, sign*by)
	if now != o.Key || sign < 0 {
		text += fmt.Sprintf(" (in the file: %s %s %s, %s)", setup.Printable(o.Key), amount(s.Unit, o.Angle, math.Abs(by)), moreOrLess(by), rehungFrom(s, o.Key, now))
	}
	return text
}

func moreOrLess(by float64) string {
	if by < 0 {
		return "less"
	}
	return "more"
}

// rehungFrom says why the file has a figure otherwise than it stands: "the spindle that came from the right side".
func rehungFrom(s *setup.Setup, key, now string) string {
	side, _ := sideOf(key)
	switch {
	case strings.HasPrefix(key, "drop_arm."):
		return "before the drop arm is turned over"
	case now != key:
		return "the spindle that came from the " + side + " side"
	case s.Rehung.Swapped:
		return "before the spindles are swapped"
	}
	return "before the spindle is turned over"
}

// movedTo says that what stands on the vehicle as a key has it should be more by so much.
func movedTo(s *setup.Setup, o *reconcile.Observation, now string, by float64) string {
	way := 0
	if by < 0 {
		way = 1
	}
	amount := amount(s.Unit, o.Angle, math.Abs(by))
	if o.Kind == reconcile.MarkAt {
		return fmt.Sprintf("the mark %s is %s %s", setup.Printable(s.Checks.Marks[o.Index].Name), amount, vehicleWays[axisOf(o.Key)][way])
	}
	side, key := sideOf(now)
	if at := strings.IndexByte(key, '['); at > 0 {
		if p, ok := points[onePin(s, key[:at])]; ok {
			return "the " + strings.ReplaceAll(p.noun, "[side]", side) + " is " + amount + " " + p.ways[axisOf(key)][way]
		}
	}
	if p, ok := scalars[key]; ok {
		return fmt.Sprintf(strings.ReplaceAll(p.moved, "[side]", side), amount+" "+p.ways[way])
	}
	return fmt.Sprintf("%s is %s %s than the file says", setup.Printable(now), amount, moreOrLess(by))
}

// axisOf returns the index in brackets that a key ends in, 0 to 2; 0 where it ends in none.
func axisOf(key string) int {
	if i := len(key) - 2; i >= 0 && key[i] >= '0' && key[i] <= '2' {
		return int(key[i] - '0')
	}
	return 0
}

// Instead says what else a suspect could be, a few of many.
func Instead(r *reconcile.Result, s *reconcile.Suspect) (list []string) {
	for i, o := range s.Also {
		if i == mostNamed {
			return append(list, fmt.Sprintf("or %d more", len(s.Also)-i))
		}
		list = append(list, "or "+blameBoth(r, o.Observation, o.By, o.Both))
	}
	return list
}

// Unseen says which figures could be wrong by a slip without its showing; empty where none could.
func Unseen(r *reconcile.Result) string {
	if len(r.Untold) == 0 {
		return ""
	}
	return fmt.Sprintf("A slip of %s or %s in these would not show: %s.", Length(r.Setup.Unit, reconcile.SlipLength), Angle(reconcile.SlipAngle), named(r, r.Untold))
}

// named lists observations, all of them.
func named(r *reconcile.Result, list []int) string {
	var names []string
	for _, i := range list {
		names = append(names, Observed(r.Setup, &r.Observations[i]))
	}
	return strings.Join(names, ", ")
}

// Advice says what would show such slips, and of which figures nothing would.
func Advice(r *reconcile.Result) (list []string) {
	told := map[int]bool{}
	for _, c := range r.Advice {
		for _, i := range c.Tells {
			told[i] = true
		}
		list = append(list, check(r.Setup.Unit, &c)+" would show it in "+named(r, c.Tells))
	}
	var rest []int
	for _, i := range r.Untold {
		if !told[i] {
			rest = append(rest, i)
		}
	}
	switch {
	case len(rest) == 0:
	case len(list) == 0:
		list = append(list, "no tape between named points would show it: measure these a second time")
	default:
		list = append(list, "no tape between named points would show the others: measure them a second time")
	}
	return list
}

// check says what to measure.
func check(u setup.Unit, c *reconcile.Check) string {
	switch {
	case c.Turn && c.Column == 0:
		return "both wheels' angles with the steering wheel at 0"
	case c.Turn:
		return "both wheels' angles with the steering wheel at " + Way(c.Column)
	}
	return fmt.Sprintf("a tape from %s to %s (%s by the file)", c.From, c.To, Length(u, c.Distance))
}

// MarkFound says where a mark is that was to be found.
func MarkFound(r *reconcile.Result, f *reconcile.Found) string {
	u := r.Setup.Unit
	if f.Open {
		return "its tapes leave it free to move: it takes three, from points that are not in line"
	}
	text := fmt.Sprintf("%s, ± %s, %s and %s", Point(u, f.At), Figure(u, f.PlusMinus[0]), Figure(u, f.PlusMinus[1]), Length(u, f.PlusMinus[2]))
	if f.Mirror != nil {
		text += fmt.Sprintf("; or as well, on the other side of the plane that its tapes begin in, at %s: give its place roughly as at, with its accuracy, to say which",
			Point(u, *f.Mirror))
	}
	return text
}

// MoreAmiss stands below suspects that are not all.
const MoreAmiss = "Other figures do not fit either. Measure these again first, put them right in the file, and reconcile anew."

// ReconcileCautions are what to heed before an adjusted figure is believed.
var ReconcileCautions = []string{
	"What is named is the most probable slip, not a certain one. Measure it again before you change the file, and before any metal is changed.",
	"A steering that does not do what was computed is not to be driven until it is known why.",
}

// ReconcileError says why a setup cannot be reconciled; other errors as they are.
func ReconcileError(err error) error {
	var (
		reach *reconcile.ReachError
		gone  *reconcile.PlaceError
	)
	switch {
	case errors.As(err, &reach):
		return fmt.Errorf("turned: the linkage of the file does not get to %s of the steering wheel, where the wheels were read; check that reading, then pickups, pins and rods",
			Way(reach.Column))
	case errors.As(err, &gone):
		return fmt.Errorf("taped: [change] has taken the point %q away", setup.Printable(gone.Name))
	case errors.Is(err, reconcile.ErrNothing):
		return errors.New("nothing was measured to hold the file against: add [[taped]] or [[turned]]; locksweep card draws a page to fill in")
	case errors.Is(err, adjust.ErrStuck), errors.Is(err, adjust.ErrStart):
		return errors.New("what was measured is too far from the file for an answer; look for a gross slip in what was measured last")
	}
	return err
}

// CardNote says how a card is to be read.
const CardNote = "Set the steering straight and centred, and measure the finished kart. ±: what the file's figures leave open, 19 times in 20; your reading has its own on top."
