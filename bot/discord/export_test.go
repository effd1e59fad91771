package discord

import "time"

// OpenWithin shortens the wait for a connection to be ready.
func OpenWithin(o *Options, d time.Duration) { o.openTime = d }

// Split is split, for its tests.
var Split = split
