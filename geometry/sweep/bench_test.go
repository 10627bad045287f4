package sweep

import (
	"runtime/debug"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// bare is New without any metal: what the linkage alone does.
func bare(t testing.TB, s *setup.Setup) *Model {
	t.Helper()
	mechanism, err := linkage.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return made(s, mechanism, new(clearance.Scene), road.New(s))
}

// benchModel is a setup with tilted kingpins, a raked column, askew bolts and rod ends of known
// tilt, and the step that gives 181 poses from lock to lock. The garbage collector is held back: a sweep leaves
// 120 KB, far too little for a process to collect, and what a collector costs beside other jobs is not the
// sweep's.
func benchModel(b *testing.B) (*Model, s1.Angle) {
	percent := debug.SetGCPercent(800)
	b.Cleanup(func() { debug.SetGCPercent(percent) })
	m := bare(b, random.FromSeed(7))
	left, right := m.Lock(ToLeft).Column, m.Lock(ToRight).Column
	for n := 170.0; n < 190; n += 0.25 {
		if step := (left - right) / s1.Angle(n); len(m.poses(step, left, right)) == 181 {
			return m, step
		}
	}
	b.Fatal("no step gives 181 poses")
	return nil, 0
}

// BenchmarkBarePoses181 is the linkage alone, posed 181 times.
func BenchmarkBarePoses181(b *testing.B) {
	m, step := benchModel(b)
	columns := columnsOf(m.Run(step))
	for b.Loop() {
		for _, c := range columns {
			p, _ := m.Linkage.Pose(c)
			sink += p.Sides[0].Sin
		}
	}
}

// BenchmarkSweep181 is a whole sweep: locks, 181 poses with all figures, findings.
func BenchmarkSweep181(b *testing.B) {
	m, step := benchModel(b)
	b.ReportAllocs()
	for b.Loop() {
		sink += float64(len(m.Run(step).Poses))
	}
}

func BenchmarkLocks(b *testing.B) {
	m, _ := benchModel(b)
	for b.Loop() {
		for _, d := range Directions {
			sink += float64(m.Lock(d).Column)
		}
	}
}

// BenchmarkFindings is what is said of a finished sweep.
func BenchmarkFindings(b *testing.B) {
	m, step := benchModel(b)
	r := m.Run(step)
	for b.Loop() {
		sink += float64(len(r.findings()))
	}
}

func columnsOf(r *Result) (columns []s1.Angle) {
	for i := range r.Poses {
		columns = append(columns, r.Poses[i].Column)
	}
	return columns
}

var sink float64
