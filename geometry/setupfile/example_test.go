package setupfile_test

import (
	"fmt"

	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
)

// A reader of a file gets either what the file says or all that is wrong with it.
func ExampleRead() {
	const kart = `locksweep = 1
units = "mm"
[vehicle]
wheelbase = 1000
[kingpin]
spacing = 600
[wheel]
offset = 120
tyre_diameter = 260
tyre_width = 130
[arm]
pickup = [0, 0, 12]
[column]
foot = [-95, 0, 130]
rak = 35
[drop_arm]
pin = [55, 0, 0]
`
	_, _, err := setupfile.Read("kart.toml", []byte(kart), setupfile.Options{})
	fmt.Println(err)

	s, _, err := setupfile.Read("kart.toml", []byte(kart), setupfile.Options{Set: []string{"arm.pickup[0]=-95"}})
	fmt.Println(s == nil, err != nil)
	// Output:
	// kart.toml:12:10: arm.pickup: lies on the kingpin axis; a steering arm needs a lever (measure from the kingpin centre to the hole)
	//   pickup = [0, 0, 12]
	//            ^
	// kart.toml:13:2: column.rake: is missing: degrees that the column rises above the horizontal
	//   [column]
	//    ^
	// kart.toml:15:1: column.rak: is not a key of this table; did you mean "rake"?
	//   rak = 35
	//   ^
	// true true
}

// Options change a file as it is read: a variant by name, single keys by path.
func ExampleRead_options() {
	const kart = `locksweep = 1
units = "in"
[vehicle]
wheelbase = 40
[kingpin]
spacing = 24
[wheel]
offset = 5
tyre_diameter = 10
tyre_width = 5
[arm]
pickup = [-4, -1, 0]
[column]
foot = [-4, 0, 5]
rake = 35
[drop_arm]
pin = [2, 0, 0]
[[variant]]
name = "narrow"
set = { "kingpin.spacing" = 20 }
`
	s, _, err := setupfile.Read("kart.toml", []byte(kart), setupfile.Options{Variant: "narrow", Set: []string{"arm.pickup[1]=-2"}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f mm, pickup %.1f mm outboard\n", s.Spacing, s.Corners[setup.Left].Arm.Pickup.Y)
	// Output: 508.0 mm, pickup -50.8 mm outboard
}
