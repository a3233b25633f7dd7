//go:build !unix

package speed

import "time"

var start = time.Now()

// spent is the clock where processor time cannot be had.
func spent() time.Duration { return time.Since(start) }
