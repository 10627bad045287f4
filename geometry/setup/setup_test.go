package setup

import (
	"testing"
)

// whole is a kart of invented dimensions that uses every key of format 1.
const whole = `locksweep = 1
name  = "Shed kart"
units = "mm"
ignore = [["stop lug", "column"]]

[vehicle]
wheelbase  = 1000
rear_track = 900
rear_tyre  = { diameter = 280, width = 180 }

[kingpin]
spacing     = 600
height      = 130
inclination = 10
caster      = 12

[wheel]
offset        = 120
lead          = 4
toe           = 1
camber        = -1
tyre_diameter = 260
tyre_width    = 130
tyre_shoulder = 20

[arm]
pickup  = [-95, -30, 0]
bolt    = [0, 0, 2]
outline = [[15, -15], [15, 15], [-110, -15], [-110, -45]]
up      = [-4, 4]
holes   = [{ name = "factory", at = [-95, -30], up = 0, diameter = 8 },
           { name = "inner", at = [-80, -25], diameter = 8 }]

[column]
foot   = [-95, 0, 130]
rake   = 35
travel = 120

[drop_arm]
left  = [55, 20, 0]
right = [55, -20, 0]
outline = [[-10, -30], [65, -30], [65, 30], [-10, 30]]
thickness = 6
left_bolt = [0, 0, 1]

[tie_rod]
left  = 256
right = 257
diameter = 16
rod_end  = { tilt = 13, body = 36, thread = 8, pitch = 1.25 }

[limits]
spindle      = 50
clearance    = 3
transmission = 20

[space]
width  = 1400
length = 2000

[[part]]
name = "side rail"
on   = "frame"
mirror = true
tube = { diameter = 30, path = [[-200, 250, 100], [300, 200, 100]] }

[[part]]
name = "stop lug"
on   = "spindle"
side = "left"
plate = { outline = [[20, -5], [40, -5], [40, 5], [20, 5]], up = [-10, 10] }
grind = true
bore = 12
keep = [[20, -5], [25, -5], [25, 5], [20, 5]]
min_wall = 6
density = 7850

[[part]]
name = "yoke ear"
on   = "frame"
at   = "kingpin"
plate = { outline = [[-20, -20], [20, -20], [20, 20], [-20, 20]], up = [-12, 12] }

[[part]]
name = "brake disc"
on   = "spindle"
disc = { centre = [0, 60, 0], axis = [0, 1, 0], diameter = 150, width = 4 }

[right.arm]
pickup = [-95, -28, 0]

[[variant]]
name = "pickup 12 mm inboard"
set  = { "arm.pickup" = [-95, -42, 0] }
`

func TestReadWhole(t *testing.T) {
	s, warnings, err := Read("kart.toml", []byte(whole), Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%+v\n%v", s, warnings)
}
