package adjust

import (
	"math"
	"testing"
)

// Certified values of the NIST Statistical Reference Datasets, nonlinear regression
// (https://www.itl.nist.gov/div898/strd/): data and values from memory, found again by the certified
// sums of squares, which no other data would give to ten digits.
var certified = []struct {
	name         string
	x, y         []float64
	model        func(b []float64, x float64) float64
	starts       [2][]float64
	b, deviation []float64
	sum          float64
}{
	{
		name:      "Misra1a",
		x:         []float64{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0},
		y:         []float64{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78},
		model:     func(b []float64, x float64) float64 { return b[0] * (1 - math.Exp(-b[1]*x)) },
		starts:    [2][]float64{{500, 0.0001}, {250, 0.0005}},
		b:         []float64{2.3894212918e2, 5.5015643181e-4},
		deviation: []float64{2.7070075241, 7.2668688436e-6},
		sum:       1.2455138894e-1,
	},
	{
		name: "MGH09",
		x:    []float64{4, 2, 1, 0.5, 0.25, 0.167, 0.125, 0.1, 0.0833, 0.0714, 0.0625},
		y:    []float64{0.1957, 0.1947, 0.1735, 0.16, 0.0844, 0.0627, 0.0456, 0.0342, 0.0323, 0.0235, 0.0246},
		model: func(b []float64, x float64) float64 {
			return b[0] * (x*x + x*b[1]) / (x*x + x*b[2] + b[3])
		},
		starts:    [2][]float64{{25, 39, 41.5, 39}, {0.25, 0.39, 0.415, 0.39}},
		b:         []float64{1.9280693458e-1, 1.9128232873e-1, 1.2305650693e-1, 1.3606233068e-1},
		deviation: []float64{1.1435312227e-2, 1.9633220911e-1, 8.0842031232e-2, 9.0025542308e-2},
		sum:       3.0750560385e-4,
	},
	{
		name: "Thurber",
		x: []float64{-3.067, -2.981, -2.921, -2.912, -2.840, -2.797, -2.702, -2.699, -2.633, -2.481, -2.363, -2.322, -1.501,
			-1.460, -1.274, -1.212, -1.100, -1.046, -0.915, -0.714, -0.566, -0.545, -0.400, -0.309, -0.109, -0.103, 0.010,
			0.119, 0.377, 0.790, 0.963, 1.006, 1.115, 1.572, 1.841, 2.047, 2.200},
		y: []float64{80.574, 84.248, 87.264, 87.195, 89.076, 89.608, 89.868, 90.101, 92.405, 95.854, 100.696, 101.060, 401.672,
			390.724, 567.534, 635.316, 733.054, 759.087, 894.206, 990.785, 1090.109, 1080.914, 1122.643, 1178.351, 1260.531,
			1273.514, 1288.339, 1327.543, 1353.863, 1414.509, 1425.208, 1421.384, 1442.962, 1464.350, 1468.705, 1447.894, 1457.628},
		model: func(b []float64, x float64) float64 {
			return (b[0] + x*(b[1]+x*(b[2]+x*b[3]))) / (1 + x*(b[4]+x*(b[5]+x*b[6])))
		},
		starts:    [2][]float64{{1000, 1000, 400, 40, 0.7, 0.3, 0.03}, {1300, 1500, 500, 75, 1, 0.4, 0.05}},
		b:         []float64{1.2881396800e3, 1.4910792535e3, 5.8323836877e2, 7.5416644291e1, 9.6629502864e-1, 3.9797285797e-1, 4.9727297349e-2},
		deviation: []float64{4.6647963344, 3.9571156086e1, 2.8698696102e1, 5.5675370270, 3.1333340687e-2, 1.4984928198e-2, 6.5842344623e-3},
		sum:       5.6427082397e3,
	},
}

func TestCertifiedFits(t *testing.T) {
	for _, c := range certified {
		for i, start := range c.starts {
			p := &Problem{Observed: c.y, Sigma: ones(len(c.y)), Scale: c.starts[1], Compute: func(b, computed []float64) bool {
				for i, x := range c.x {
					computed[i] = c.model(b, x)
				}
				return true
			}}
			f, err := Solve(p, start)
			if err != nil {
				t.Errorf("%s from start %d: %v", c.name, i+1, err)
				continue
			}
			if !near(f.Sum, c.sum, 1e-9) {
				t.Errorf("%s from start %d: sum of squares %.11g, certified %.11g", c.name, i+1, f.Sum, c.sum)
			}
			each := math.Sqrt(f.Sum / float64(len(c.y)-len(start)))
			for j, want := range c.b {
				if !near(f.X[j], want, 1e-6) {
					t.Errorf("%s from start %d: b%d = %.11g, certified %.11g", c.name, i+1, j+1, f.X[j], want)
				}
				if got := each * f.Deviation(j); !near(got, c.deviation[j], 1e-5) {
					t.Errorf("%s from start %d: deviation of b%d = %.11g, certified %.11g", c.name, i+1, j+1, got, c.deviation[j])
				}
			}
			if got, want := f.Freedom(), float64(len(c.y)-len(start)); !near(got, want, 1e-6) {
				t.Errorf("%s: freedom %g, want %g", c.name, got, want)
			}
		}
	}
}

func ones(n int) (list []float64) {
	for range n {
		list = append(list, 1)
	}
	return list
}

func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

// TestJudgeOfAMean: n readings of one length have redundancy 1 - 1/n each, and the normalised residuals of two go together
// as -1/(n-1) (derived: the residuals of a mean add up to nought).
func TestJudgeOfAMean(t *testing.T) {
	readings, sigma := []float64{100.2, 99.9, 100.1, 100, 106}, 0.5
	p := &Problem{Observed: readings, Sigma: []float64{sigma, sigma, sigma, sigma, sigma}, Scale: []float64{1}, Compute: func(x, computed []float64) bool {
		for i := range computed {
			computed[i] = x[0]
		}
		return true
	}}
	f, err := Solve(p, []float64{90})
	if err != nil {
		t.Fatal(err)
	}
	n := float64(len(readings))
	if mean := 101.24; !near(f.X[0], mean, 1e-12) {
		t.Errorf("mean %.12g, want %g", f.X[0], mean)
	}
	if want := sigma / math.Sqrt(n); !near(f.Deviation(0), want, 1e-9) {
		t.Errorf("its deviation %g, want %g", f.Deviation(0), want)
	}
	if got, want := f.Redundancy(4), 1-1/n; !near(got, want, 1e-9) {
		t.Errorf("redundancy %g, want %g", got, want)
	}
	if got, want := f.Alike(0, 4), -1/(n-1); !near(got, want, 1e-8) {
		t.Errorf("alike %g, want %g", got, want)
	}
	w, known := f.Normalised(p, 4)
	if want := (106 - 101.24) / sigma / math.Sqrt(1-1/n); !known || !near(w, want, 1e-9) {
		t.Errorf("normalised residual %g, want %g", w, want)
	}
	if got, want := f.Error(4), 106-100.05; !near(got, want, 1e-9) { // 100.05: the mean of the others
		t.Errorf("error %g, want %g", got, want)
	}
}

// TestWhatIsNotObserved: two unknowns of which only 0.1 of the one and 0.3 of the other together are observed are left undone along
// (0.3, -0.1), nine tenths and one tenth of it, and a third stays where it began.
func TestWhatIsNotObserved(t *testing.T) {
	p := &Problem{Observed: []float64{10, 7.1, 33}, Sigma: ones(3), Scale: ones(3), Compute: func(x, computed []float64) bool {
		for i, times := range []float64{1, 0.7, 3.3} {
			computed[i] = times * (0.1*x[0] + 0.3*x[1])
		}
		return true
	}}
	f, err := Solve(p, []float64{3, 5, 7})
	if err != nil {
		t.Fatal(err)
	}
	if want := (10 + 0.7*7.1 + 3.3*33) / (1 + 0.49 + 10.89); !near(0.1*f.X[0]+0.3*f.X[1], want, 1e-9) || f.X[2] != 7 {
		t.Errorf("unknowns %v: what is observed should be %g and the third 7", f.X, want)
	}
	for i, want := range []float64{0.9, 0.1, 1} {
		if !near(f.Undone[i], want, 1e-6) {
			t.Errorf("undone %v, want 0.9, 0.1, 1", f.Undone)
		}
	}
	if !near(f.Freedom(), 2, 1e-9) {
		t.Errorf("freedom %g, want 2", f.Freedom())
	}
}

// TestNoStart: what cannot be worked out at the start is an error.
func TestNoStart(t *testing.T) {
	p := &Problem{Observed: ones(1), Sigma: ones(1), Scale: ones(1), Compute: func(_, _ []float64) bool { return false }}
	if _, err := Solve(p, ones(1)); err != ErrStart {
		t.Errorf("got %v, want %v", err, ErrStart)
	}
}

// TestTogether: what two errors of one size explain is what the sum of squares loses with one unknown more, that size (derived: for a linear
// model both are the same projection).
func TestTogether(t *testing.T) {
	x, y := []float64{0, 1, 2, 3, 4, 5}, []float64{1.2, 3.9, 3.1, 4.2, 9.7, 6.1}
	sigma := []float64{1, 0.5, 1, 2, 0.5, 1}
	for _, sign := range []float64{1, -1} {
		solve := func(more bool) (*Problem, *Fit) {
			p := &Problem{Observed: y, Sigma: sigma, Scale: []float64{1, 1, 1}[:2], Compute: func(b, computed []float64) bool {
				for i := range x {
					computed[i] = b[0] + b[1]*x[i]
				}
				if more {
					computed[1] += b[2] * sigma[1]
					computed[4] += sign * b[2] * sigma[4]
				}
				return true
			}}
			if more {
				p.Scale = []float64{1, 1, 1}
			}
			f, err := Solve(p, make([]float64, len(p.Scale)))
			if err != nil {
				t.Fatal(err)
			}
			return p, f
		}
		p, f := solve(false)
		_, with := solve(true)
		w, deviations, known := f.Together(p, 1, 4, sign)
		if !known || !near(w*w, f.Sum-with.Sum, 1e-6) || !near(deviations, with.X[2], 1e-6) {
			t.Errorf("sign %g: %g squared and %g, want %g and %g", sign, w, deviations, f.Sum-with.Sum, with.X[2])
		}
	}
}
