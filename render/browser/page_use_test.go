//go:build browser

package browser

import (
	"context"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"locksweep/fixtures"
	"locksweep/fixtures/readback"
)

// pose is what the page shows at a place of its slider.
type pose struct {
	Value, Last int     // frame
	X, Y        float64 // middle of the thumb, in the window
	Left, Wide  float64 // where its middle stands at the first frame, and how far it goes
	Column      string
	At          string // what stops it here
	Past        bool
	Lit         int    // contacts that light
	Drawn       string // outlines
	Spoken      string
}

const poseScript = `(() => {
  const s = document.getElementById('slide');
  s.scrollIntoView({block: 'center'});
  const r = s.getBoundingClientRect(), thumb = 44, left = r.left + thumb / 2, wide = r.width - thumb;
  return {Value: +s.value, Last: +s.max, X: left + wide * s.value / s.max, Y: r.top + r.height / 2, Left: left, Wide: wide,
    Column: document.getElementById('column').textContent, At: document.getElementById('at').textContent,
    Past: !document.getElementById('past').hidden && document.getElementById('near').classList.contains('beyond'),
    Lit: document.querySelectorAll('#contacts [visibility=visible]').length,
    Drawn: [...document.querySelectorAll('#moves path')].map(p => p.getAttribute('d')).join(), Spoken: s.getAttribute('aria-valuetext')};
})()`

func (page tab) pose(t *testing.T) pose { t.Helper(); return ask[pose](t, page, poseScript) }

// moved checks that the slider stands at a frame, within one, and that drawing and words have followed.
func (page tab) moved(t *testing.T, by string, want int, before pose) pose {
	t.Helper()
	p := page.pose(t)
	if p.Value < want-1 || p.Value > want+1 || p.Value == before.Value {
		t.Errorf("%s: at frame %d, want %d (it was at %d)", by, p.Value, want, before.Value)
	}
	if p.Column == before.Column || p.Drawn == before.Drawn || p.Spoken != p.Column {
		t.Errorf("%s: %q after %q, spoken %q; drawn anew: %v", by, p.Column, before.Column, p.Spoken, p.Drawn != before.Drawn)
	}
	return p
}

func touch(kind input.DispatchTouchEventType, x, y float64) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, to *chromedp.Target) error {
		p := input.DispatchTouchEventParams{Type: kind, TouchPoints: []*input.TouchPoint{}}
		if kind != input.DispatchTouchEventTypeTouchEnd {
			p.TouchPoints = append(p.TouchPoints, &input.TouchPoint{X: x, Y: y})
		}
		_, err := cdp.Call(ctx, to, input.DispatchTouchEvent, p)
		return err
	})
}

func TestPageSlides(t *testing.T) {
	t.Run("by mouse", func(t *testing.T) {
		page := openPage(t, "shed-kart")
		p := page.pose(t)
		to := p.Left + 0.7*p.Wide
		page.do(t, chromedp.MouseEvent(chromedp.MousePressed, p.X, p.Y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
		for i := range 5 {
			page.do(t, chromedp.MouseEvent(chromedp.MouseMoved, p.X+(to-p.X)*float64(i+1)/5, p.Y, chromedp.ButtonLeft))
		}
		page.do(t, chromedp.MouseEvent(chromedp.MouseReleased, to, p.Y, chromedp.ButtonLeft, chromedp.ClickCount(1)))
		page.moved(t, "dragged", int(0.7*float64(p.Last)), p)
		for _, c := range []struct {
			tag  string
			past bool
		}{{"L1", false}, {"L2", true}, {"R1", false}} {
			page.do(t, chromedp.Click(chromedp.CSS(`button[data-tag="`+c.tag+`"]`)))
			if p := page.pose(t); !strings.HasPrefix(p.At, c.tag+": ") || p.Past != c.past || p.Lit == 0 {
				t.Errorf("button %s: at %q, past the lock: %v, %d contacts light; want %v and at least one", c.tag, p.At, p.Past, p.Lit, c.past)
			}
		}
	})
	t.Run("by touch", func(t *testing.T) {
		page := openPage(t, "shed-kart", phone)
		p := page.pose(t)
		to := p.Left + 0.2*p.Wide
		page.do(t, touch(input.DispatchTouchEventTypeTouchStart, p.X, p.Y))
		for i := range 5 {
			page.do(t, touch(input.DispatchTouchEventTypeTouchMove, p.X+(to-p.X)*float64(i+1)/5, p.Y))
		}
		page.do(t, touch(input.DispatchTouchEventTypeTouchEnd, to, p.Y))
		page.moved(t, "dragged", int(0.2*float64(p.Last)), p)
		for range 5 { // a tap that a busy machine drags out is taken for a long press
			page.do(t, chromedp.Tap(chromedp.CSS(`button[data-tag="R1"]`)))
			time.Sleep(200 * time.Millisecond)
			if p = page.pose(t); strings.HasPrefix(p.At, "R1: ") {
				return
			}
		}
		t.Errorf("R1 tapped: at %q", p.At)
	})
	t.Run("by keys", func(t *testing.T) {
		page := openPage(t, "shed-kart")
		for range 10 {
			if ask[string](t, page, `document.activeElement.id`) == "slide" {
				break
			}
			page.do(t, chromedp.KeyEvent(kb.Tab))
		}
		p := page.pose(t)
		for _, c := range []struct {
			by, key string
			want    int
		}{{"right", kb.ArrowRight, p.Value + 1}, {"End", kb.End, p.Last}, {"left", kb.ArrowLeft, p.Last - 1}, {"Home", kb.Home, 0}, {"up", kb.ArrowUp, 1}} {
			page.do(t, chromedp.KeyEvent(c.key))
			after := page.moved(t, c.by, c.want, p)
			if after.Value != c.want {
				t.Errorf("%s: at frame %d, want %d", c.by, after.Value, c.want)
			}
			p = after
		}
	})
	t.Run("by itself", func(t *testing.T) {
		page := openPage(t, "shed-kart")
		before := page.pose(t)
		page.do(t, chromedp.Click(chromedp.CSS("#play")))
		page.until(t, "Play", fmt.Sprintf(`document.getElementById('slide').value != %d`, before.Value))
		page.do(t, chromedp.Click(chromedp.CSS("#play")))
		stopped := page.pose(t)
		time.Sleep(100 * time.Millisecond)
		if p := page.pose(t); p.Value != stopped.Value {
			t.Errorf("stopped at frame %d, it goes on to %d", stopped.Value, p.Value)
		}
		page.do(t, media("", &emulation.MediaFeature{Name: "prefers-reduced-motion", Value: "reduce"}))
		if ask[bool](t, page, `document.getElementById('play').checkVisibility()`) {
			t.Error("Play is offered where the system asks for reduced motion")
		}
	})
}

// TestPageFiguresAreThoseOfTheJSON reads ten poses off the page as a reader does, and compares them with what sweep --json says
// of the same column angles, rounded as printed.
func TestPageFiguresAreThoseOfTheJSON(t *testing.T) {
	for _, e := range fixtures.Examples {
		t.Run(e.Name, func(t *testing.T) {
			page := openPage(t, e.Name)
			// The very ends may be dead points, which rounding oversteps.
			shown := ask[[]struct {
				Column float64
				Cells  map[string]string
			}](t, page, `(() => {
				const slide = document.getElementById('slide'), out = [];
				for (let i = 0; i < 10; i++) {
					slide.value = 1 + Math.floor(i * (slide.max - 2) / 9);
					slide.dispatchEvent(new Event('input'));
					const Cells = {};
					for (const c of document.querySelectorAll('td[data-film="0"]')) Cells[c.dataset.key] = c.textContent;
					out.push({Column: locksweep.column(), Cells});
				}
				return out;
			})()`)
			var at []string
			for _, s := range shown {
				at = append(at, strconv.FormatFloat(s.Column, 'g', -1, 64))
			}
			var said struct {
				Poses []struct {
					Left, Right struct{ Steer float64 }
					Error       *float64 `json:"ackermann_error"`
					Ideal       *float64 `json:"ideal_inner"`
					Rods        []struct {
						From, To struct{ Transmission float64 }
					}
				}
			}
			if err := json.Unmarshal(run(t, "sweep", e.Name+".toml", "--json", "--at="+strings.Join(at, ",")), &said); err != nil {
				t.Fatal(err)
			}
			if len(said.Poses) != 10 {
				t.Fatalf("%d poses, want 10", len(said.Poses))
			}
			for i, p := range said.Poses {
				check := func(key, want string) {
					t.Helper()
					if got := shown[i].Cells[key]; got != want {
						t.Errorf("%s at %.2f°: the page shows %q, the JSON says %q", key, shown[i].Column, got, want)
					}
				}
				check("left", readback.Way(p.Left.Steer))
				check("right", readback.Way(p.Right.Steer))
				check("ideal", readback.Degrees(p.Ideal, false))
				check("error", readback.Degrees(p.Error, true))
				for k, rod := range p.Rods {
					check("lever"+strconv.Itoa(2*k+1), readback.Degrees(&rod.From.Transmission, false))
					check("lever"+strconv.Itoa(2*k), readback.Degrees(&rod.To.Transmission, false))
				}
			}
		})
	}
}

// TestPageLaysSetupsOver: the slider moves every setup, and each stays within the panel from end to end of its lock.
func TestPageLaysSetupsOver(t *testing.T) {
	page := openPage(t, "compared")
	seen := ask[struct {
		Films, Moved int
		Out          []string
		Label        float64
	}](t, page, `(() => {
		const groups = [...document.querySelectorAll('#near [data-film]')], view = document.getElementById('near').viewBox.baseVal;
		const drawn = () => groups.map(g => [...g.querySelectorAll('.edge')].map(p => p.getAttribute('d')).join());
		const before = drawn(), Out = [];
		locksweep.go(Math.floor(locksweep.frames / 3));
		const after = drawn();
		for (const share of [0.3, 0.5, 0.7]) {
			locksweep.go(Math.floor(share * locksweep.frames));
			for (const g of groups) for (const p of g.querySelectorAll('.edge.tyre, .over .edge')) {
				const b = p.getBBox();
				if (b.x < view.x || b.x + b.width > view.x + view.width) Out.push(g.dataset.film + ': ' + b.x);
			}
		}
		return {Films: groups.length, Moved: groups.filter((g, i) => before[i] !== after[i]).length, Out,
			Label: document.querySelector('.live tbody th').getBoundingClientRect().width};
	})()`)
	if seen.Films != 2 || seen.Moved != 2 || len(seen.Out) > 0 || seen.Label < 100 {
		t.Errorf("%+v: want two that move, nothing out of the panel, labels with room", seen)
	}
}

// longestStep is how long a step of the slider may take, ms: a picture at 60 a second.
const longestStep = 16

// TestPageStepsAreQuick takes what the browser says of its own work on the page, from the script to the paint, a step: the time
// of its thread, which other work on the machine does not lengthen.
func TestPageStepsAreQuick(t *testing.T) {
	for _, name := range []string{"shed-kart", "rack-buggy", "compared"} {
		t.Run(name, func(t *testing.T) {
			page := openPage(t, name, chromedp.Func(func(ctx context.Context, to *chromedp.Target) error {
				_, err := cdp.Call(ctx, to, performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks})
				return err
			}))
			before := page.worked(t)
			const steps = 30
			ask[bool](t, page, fmt.Sprintf(`new Promise(done => {
				let i = 0;
				const step = () => {
					if (i === %d) return done(true);
					locksweep.go(Math.floor(i++ * (locksweep.frames - 1) / %[1]d));
					requestAnimationFrame(step);
				};
				step();
			})`, steps))
			took := (page.worked(t) - before) / steps * 1000
			t.Logf("%.1f ms a step", took)
			if !(took > 0.05 && took < longestStep) {
				t.Errorf("a step takes %.1f ms, at most %d", took, longestStep)
			}
		})
	}
}

// worked is how long the browser has worked on the page so far, seconds.
func (page tab) worked(t *testing.T) (seconds float64) {
	t.Helper()
	err := chromedp.Do(page.ctx, chromedp.Func(func(ctx context.Context, to *chromedp.Target) error {
		said, err := cdp.Call(ctx, to, performance.GetMetrics, cdp.Empty{})
		if err != nil {
			return err
		}
		for _, m := range said.Metrics {
			if m.Name == "TaskDuration" {
				seconds = m.Value
			}
		}
		return nil
	}))
	if err != nil {
		t.Fatal(err)
	}
	return seconds
}
