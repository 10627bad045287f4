// Package cores spreads work whose pieces do not depend on one another over all cores.
package cores

import (
	"runtime"

	"golang.org/x/sync/errgroup"
)

// Each does n things, each by its number from 0 on, and returns when all are done. Told, unless nil, is told on the
// caller's goroutine how many have been begun.
func Each(n int, do func(i int), told func(begun int)) {
	var group errgroup.Group
	work := make(chan int)
	for range min(n, runtime.GOMAXPROCS(0)) { // few that go on, so that each grows its stack but once
		group.Go(func() error {
			for i := range work {
				do(i)
			}
			return nil
		})
	}
	for i := range n {
		work <- i
		if told != nil {
			told(i + 1)
		}
	}
	close(work)
	group.Wait()
}
