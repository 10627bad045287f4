package wording

import (
	"strings"

	"locksweep/geometry/setup"
)

// measured are the words for measures, by keys without "right." and with [#] for their last number; what is not here is called by its key.
var measured = map[string][]string{
	"arm.pickup[#]":       {"pickup, forward", "pickup, outboard", "pickup, up"},
	"drop_arm.left[#]":    {"left pin, down", "left pin, left", "left pin, along"},
	"drop_arm.right[#]":   {"right pin, down", "right pin, left", "right pin, along"},
	"drop_arm.pin[#]":     {"pin, down", "pin, left", "pin, along"},
	"column.foot[#]":      {"column's foot, forward", "column's foot, left", "column's foot, up"},
	"drag_link.pickup[#]": {"drag link's pickup, forward", "drag link's pickup, outboard", "drag link's pickup, up"},
	"column.rake":         {"column's rake"},
	"kingpin.spacing":     {"kingpins, centre to centre"},
	"kingpin.height":      {"kingpin centre above ground"},
	"kingpin.caster":      {"caster"},
	"kingpin.inclination": {"kingpin inclination"},
	"wheel.offset":        {"kingpin centre to tyre's middle"},
	"wheel.lead":          {"stub axle ahead of the kingpin"},
	"tie_rod.length":      {"rod, centre to centre"},
	"tie_rod.left":        {"left rod, centre to centre"},
	"tie_rod.right":       {"right rod, centre to centre"},
	"vehicle.wheelbase":   {"wheelbase"},
	"vehicle.rear_track":  {"rear track"},
}

// MeasureName names a measure of the vehicle as it stands in words, with the file's key behind them: "pickup, forward (arm.pickup[0])". A
// measure without words is its key.
func MeasureName(r *setup.Rehung, key string) string {
	file, _ := r.Stands(key) // what was swapped comes back when it is swapped again
	plain, right := strings.CutPrefix(key, "right.")
	side, at := map[bool]string{true: "right "}[right], axisOf(plain)
	if bare := strings.TrimRight(plain, "[012]"); bare != plain {
		plain = bare + "[#]"
	}
	if words := measured[plain]; at < len(words) {
		return side + words[at] + " (" + file + ")"
	}
	return setup.Printable(file)
}
