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
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i := range n {
		group.Go(func() error {
			do(i)
			return nil
		})
		if told != nil {
			told(i + 1)
		}
	}
	group.Wait()
}
