// Package cores spreads work whose pieces do not depend on one another over all cores.
package cores

import (
	"runtime"

	"golang.org/x/sync/errgroup"
)

// Each calls do with every number from 0 to n-1, on all cores, and returns when all are done. As each is begun it calls told, unless
// that is nil, on the caller's goroutine with how many have been.
func Each(n int, do func(i int), told func(begun int)) {
	var group errgroup.Group
	work := make(chan int)
	for range min(n, runtime.GOMAXPROCS(0)) { // one goroutine a core for all of them, so that each grows its stack only once
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
