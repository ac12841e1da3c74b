package chance

// ReadyDays is when group g is ready on each day, in seconds.
func (o *Outcome) ReadyDays(g int) []float64 { return o.ready[g] }
