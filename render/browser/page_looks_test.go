//go:build browser

package browser

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

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
