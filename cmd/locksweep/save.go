package main

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/spf13/pflag"

	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/render/export"
)

// saving is where the setup goes with what was found as one more variant.
type saving struct {
	path   string
	option string // what it is called where not --save
}

func (s *saving) register(flags *pflag.FlagSet) {
	flags.StringVar(&s.path, "save", "", "write the setup file, with this as one more variant, to `FILE`")
}

// check refuses to write the setup to standard output; see also outputs.
func (s *saving) check() error {
	if s.path == "-" {
		option := cmp.Or(s.option, "--save")
		return usagef("%s -: the setup goes to a file of its own; name it %s kart2.toml", option, option)
	}
	return nil
}

// write writes the file that src has read, with one more variant that holds what src changed and then the change,
// "key=value" each as --set takes it, and says what the variant is called. Without --save it does nothing.
func (s *saving) write(sh *shell, src *source, name string, change []string, force bool) error {
	if s.path == "" {
		return nil
	}
	out, called, err := setupfile.AddVariant(nameOf(src.path), src.data, src.opt, name, change)
	if err != nil {
		return noAnswer{fmt.Errorf("%s %s: %w", cmp.Or(s.option, "--save"), setup.Printable(s.path), err)}
	}
	if err := writeFile(s.path, src.path, out, force); err != nil {
		return err
	}
	sh.note(fmt.Sprintf("%s: saved with the variant %q; see it with locksweep compare", s.path, called))
	return nil
}

// outlineSetting gives an outline (mm) to a key, as --set takes it, to a ten-thousandth of a millimetre.
func outlineSetting(u setup.Unit, key string, outline []r2.Point) string {
	points := make([]string, len(outline))
	for i, p := range outline {
		points[i] = "[" + ofPlaces.of(u, p.X) + ", " + ofPlaces.of(u, p.Y) + "]"
	}
	return key + "=[" + strings.Join(points, ", ") + "]"
}

// digits are by how many parts of the unit a length is rounded for the setup file.
type digits [2]float64

var (
	ofRods    = digits{setup.MM: 1e6, setup.Inch: 1e8} // hold the wheels to a millionth of a degree
	ofPlaces  = digits{setup.MM: 1e4, setup.Inch: 1e6} // a ten-thousandth of a millimetre, or finer
	ofChanged = digits{setup.MM: 1e8, setup.Inch: 1e8} // a place that is of round figures only after [change]
)

func (d digits) of(u setup.Unit, mm float64) string {
	return export.Figure(math.Round(u.FromMM(mm)*d[u]) / d[u])
}
