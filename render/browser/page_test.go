//go:build browser

package browser

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"locksweep/fixtures"
	"locksweep/fixtures/readback"
)

// examples is a folder with the setup file of every example, for the program to work in.
var examples = sync.OnceValues(func() (string, error) {
	for _, e := range fixtures.Examples {
		data, err := e.Data()
		if err == nil {
			err = os.WriteFile(filepath.Join(workshop, e.Name+".toml"), data, 0o600)
		}
		if err != nil {
			return "", err
		}
	}
	return workshop, nil
})

// run lets the program work on the examples and returns what it prints.
func run(t *testing.T, args ...string) []byte {
	t.Helper()
	folder, err := examples()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program(t), args...)
	cmd.Dir = folder
	var said bytes.Buffer
	cmd.Stderr = &said
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("locksweep %s: %v\n%s", strings.Join(args, " "), err, said.String())
	}
	return out
}

// pages are those that the tests open: every example, two setups over one another, and what is asked for by name.
var pages = func() map[string][]string {
	list := map[string][]string{
		"compared": {"shed-kart.toml", "cyclekart.toml"},
		"asked":    {"shed-kart.toml", "--grind", "36"},
	}
	for _, e := range fixtures.Examples {
		list[e.Name] = []string{e.Name + ".toml"}
	}
	return list
}()

// eachPage opens every page in a tab of its own.
func eachPage(t *testing.T, check func(t *testing.T, page tab, name string)) {
	for _, name := range slices.Sorted(maps.Keys(pages)) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			check(t, openPage(t, name), name)
		})
	}
}

// making is held while a page is made: each once.
var making sync.Mutex

// openPage makes a page with the program and opens it. When the test ends the browser must have complained of nothing and
// asked for nothing but the page.
func openPage(t *testing.T, name string, first ...chromedp.Action[chromedp.Void]) tab {
	t.Helper()
	file := filepath.Join(workshop, name+".html")
	making.Lock()
	if _, err := os.Stat(file); err != nil {
		run(t, append([]string{"report", "-o", file}, pages[name]...)...)
	}
	making.Unlock()
	return openAddress(t, "file://"+file, nil, first...)
}

// openAddress opens a page; allowed are the addresses, but for its own, that it may ask for.
func openAddress(t *testing.T, address string, allowed []string, first ...chromedp.Action[chromedp.Void]) tab {
	t.Helper()
	page := newTab(t)
	var mu sync.Mutex
	var asked []string
	if err := chromedp.Listen(page.ctx, func(event any) {
		if e, ok := event.(*network.EventRequestWillBeSent); ok {
			mu.Lock()
			asked = append(asked, e.Request.URL)
			mu.Unlock()
		}
	}); err != nil {
		t.Fatal(err)
	}
	page.do(t, append([]chromedp.Action[chromedp.Void]{
		chromedp.Func(func(ctx context.Context, to *chromedp.Target) error {
			_, err := cdp.Call(ctx, to, network.Enable, network.EnableParams{})
			return err
		}),
		chromedp.EmulateViewport(1200, 900),
	}, first...)...)
	page.do(t, chromedp.Navigate(address))
	t.Cleanup(func() {
		for _, c := range page.complaints(t) {
			t.Errorf("the browser complains: %s", c)
		}
		mu.Lock()
		defer mu.Unlock()
		if !slices.Contains(asked, address) {
			t.Errorf("%s is not among what was asked for: %q", address, asked)
		}
		for _, url := range asked {
			if url != address && url != "data:," && !slices.Contains(allowed, url) {
				t.Errorf("the page asks for %s", url)
			}
		}
	})
	return page
}

// do carries out actions.
func (page tab) do(t *testing.T, actions ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(page.ctx, actions...); err != nil {
		t.Fatal(err)
	}
}

// ask returns what a script finds on the page.
func ask[T any](t *testing.T, page tab, script string) T {
	t.Helper()
	v, err := chromedp.Run(page.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatalf("%.80s: %v", script, err)
	}
	return v
}

// until waits for what a script finds true; meanwhile the page may be loaded anew.
func (page tab) until(t *testing.T, what, script string) {
	t.Helper()
	for limit := time.Now().Add(time.Minute); ; time.Sleep(2 * time.Millisecond) {
		found, err := chromedp.Run(page.ctx, chromedp.Evaluate[bool]("!!("+script+")"))
		if found {
			return
		}
		if time.Now().After(limit) {
			t.Fatalf("%s: nothing comes of it: %v", what, err)
		}
	}
}

// media sets what the system asks for: screen or print, light or dark, motion.
func media(kind string, features ...*emulation.MediaFeature) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, to *chromedp.Target) error {
		_, err := cdp.Call(ctx, to, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: kind, Features: features})
		return err
	})
}

func scheme(value string) chromedp.Action[chromedp.Void] {
	return media("", &emulation.MediaFeature{Name: "prefers-color-scheme", Value: value})
}

// phone is the viewport of a phone.
var phone = chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch, chromedp.EmulatePortrait)

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

// leastTarget is how large what is touched must be, in dots of the screen: common practice for a thumb, and more than the 24
// that WCAG 2.2 asks for at level AA (2.5.8, memory).
const leastTarget = 44

func TestPageFitsAPhone(t *testing.T) {
	eachPage(t, func(t *testing.T, page tab, _ string) {
		page.do(t, phone)
		ask[bool](t, page, `document.querySelectorAll('details').forEach(d => d.open = true) || true`)
		seen := ask[struct {
			Wide  float64
			Small []string
			Found int
		}](t, page, fmt.Sprintf(`(() => {
			const targets = [...document.querySelectorAll('a[href],button,input,select,summary')].filter(e => e.checkVisibility());
			return {Wide: document.scrollingElement.scrollWidth, Found: targets.length, Small: targets.map(e => [e, e.getBoundingClientRect()])
				.filter(([e, r]) => r.width < %d || r.height < %[1]d).map(([e, r]) => e.outerHTML.slice(0, 80) + ' ' + r.width + ' × ' + r.height)};
		})()`, leastTarget))
		if seen.Wide > 390 {
			t.Errorf("the page is %.0f wide on a screen of 390", seen.Wide)
		}
		if seen.Found < 5 {
			t.Errorf("%d things to touch", seen.Found)
		}
		for _, s := range seen.Small {
			t.Errorf("less than %d: %s", leastTarget, s)
		}
	})
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

// TestPageWithoutScript: what needs the script is not there, and the three poses and both locks stand in its place.
func TestPageWithoutScript(t *testing.T) {
	eachPage(t, func(t *testing.T, page tab, name string) {
		page.do(t, chromedp.Func(func(ctx context.Context, to *chromedp.Target) error {
			_, err := cdp.Call(ctx, to, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
			return err
		}), chromedp.Reload())
		seen := ask[struct {
			Ran, Needing    bool
			Poses, Outlines int
			Both            bool
			Text            string
		}](t, page, `(() => {
			const shown = [...document.querySelectorAll('.poses svg')].filter(e => e.checkVisibility() && e.getBoundingClientRect().height > 50);
			return {Ran: document.documentElement.classList.contains('js'), Needing: [...document.querySelectorAll('.needs-script')].some(e => e.checkVisibility()),
				Poses: shown.length, Outlines: new Set(shown.map(s => [...s.querySelectorAll('.fill')].map(p => p.getAttribute('d')).join())).size,
				Both: document.querySelector('.both svg').checkVisibility(), Text: document.body.innerText};
		})()`)
		if seen.Ran {
			t.Fatal("the script runs")
		}
		if seen.Needing || seen.Poses != 3 || seen.Outlines != 3 || !seen.Both {
			t.Errorf("needs a script: %v; %d poses of %d kinds, want 3; both locks: %v", seen.Needing, seen.Poses, seen.Outlines, seen.Both)
		}
		for _, want := range []string{"Turned left", "What stops it", "Straight ahead", "At the left lock", "At the right lock"} {
			if !strings.Contains(seen.Text, want) {
				t.Errorf("%s: %q is not on the page", name, want)
			}
		}
	})
}
