package solid_test

import (
	"fmt"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/rigid"
	"locksweep/geometry/solid"
)

// A tyre turns about an upright kingpin towards a rail of the frame.
func ExampleDistance() {
	tyre := solid.Cylinder(r3.Vector{Y: 150}, r3.Vector{Y: 1}, 130, 60, 0)
	rail := solid.Capsule(r3.Vector{X: -400, Y: -40}, r3.Vector{X: 200, Y: -40}, 15)
	kingpin := rigid.Axis{Dir: r3.Vector{Z: 1}}
	for degrees := 0; degrees <= 45; degrees += 15 {
		turned := rigid.About(kingpin, s1.Angle(degrees)*s1.Degree)
		gap, _, _ := solid.Distance(&tyre, &rail, turned, rigid.Identity)
		fmt.Printf("%2d degrees: %.1f mm\n", degrees, gap)
	}
	// Output:
	//  0 degrees: 115.0 mm
	// 15 degrees: 78.3 mm
	// 30 degrees: 37.9 mm
	// 45 degrees: -3.3 mm
}
