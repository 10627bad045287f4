package setup

// Stock is what a rod is made of and how it is put together.
type Stock struct {
	Outer, Wall float64  // of a tube, mm; 0: a solid bar of the rod's diameter
	Material    Material // that the rod ends are screwed into
	Yield       float64  // of rod and thread, N/mm²; 0: that of the material
	Engagement  float64  // of a rod end's thread in the rod, in thread diameters; 0: that of the material
	LeftHand    bool     // one end has a left-hand thread, so that turning the rod changes its length
	Donor       Donor
	Bolt        RodBolt // at the steering arm that the rod drives
	InnerBolt   RodBolt // at the rod's other end
}

// Outer is the outside diameter of a rod's tube or bar, Bore the inside diameter of its tube, mm; 0 of a bar.
func (r *Rod) Outer() float64 {
	if r.Stock.Outer > 0 {
		return r.Stock.Outer
	}
	return r.Diameter
}

// Bore is described with Outer.
func (r *Rod) Bore() float64 { return max(r.Stock.Outer-2*r.Stock.Wall, 0) }

// Donor is a rod with inside thread at both ends that another is to be made from.
type Donor struct {
	Length, ThreadDepth float64 // mm; 0: none is given
}

// RodBolt holds a rod end.
type RodBolt struct {
	Offset float64 // of the eye's middle from the face that the bolt comes out of, mm; 0: not given
	Double bool    // held on both sides of the eye
	Plain  bool    // a plain shank there, no thread
	Yield  float64 // N/mm²; 0: not given
}

// Material is what a thread is cut into.
type Material int

const (
	MildSteel Material = iota
	NutSteel           // as strong as a nut
	Aluminium
)

// Materials lists them by what the file calls them.
var Materials = []string{"mild steel", "nut steel", "aluminium"}

func (m Material) String() string { return Materials[m] }

// Engagement is the least length of thread in a material, in thread diameters: common practice, no source.
func (m Material) Engagement() float64 { return [3]float64{1.5, 1, 2}[m] }

// Yield is the yield strength of a material of no better grade, N/mm²: S235 of EN 10025-2, property class 4 of a nut's
// steel, 6060-T6 of EN 755-2 (memory).
func (m Material) Yield() float64 { return [3]float64{235, 340, 150}[m] }

// Load is what acts on the steering, as an order of magnitude; 0 where not given.
type Load struct {
	Front         float64 // on both front wheels, kg
	Friction      float64 // of tyre on ground
	Pressure      float64 // in the tyre, bar
	PatchLength   float64 // of the tyre's print, mm
	PatchWidth    float64
	SteeringWheel float64 // diameter, mm
	Hand          float64 // pull at its rim, N
	Kerb          float64 // knock on a front wheel, N
	FrontShare    float64 // of the weight on the front wheels, 0 to 1
	Height        float64 // of the mass centre above ground, mm
}
