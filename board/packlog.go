package board

// mostReadings is how many readings of a pack the board keeps.
const mostReadings = 60

// PackLog is what was read off a pack, oldest first: the last 60 readings, each as
// it was entered.
type PackLog struct {
	Pack     PackID    `json:"pack"`
	V        Rev       `json:"v"`
	Readings []Reading `json:"readings"`
}

func (log PackLog) Key() Key         { return KeyOf(KindPackLog, log.Pack) }
func (log PackLog) Rev() Rev         { return log.V }
func (log PackLog) stamp(r Rev) Noun { log.V = r; return log }

func (log PackLog) valid(s State) *Refusal {
	if _, ok := s.Packs[log.Pack]; !ok {
		return missing("pack", "pack")
	}
	return nil
}

func (t *turn) logReading(id PackID, r Reading) {
	was := t.s().PackLogs[id].Readings
	if over := len(was) + 1 - mostReadings; over > 0 {
		was = was[over:]
	}
	t.put(PackLog{Pack: id, Readings: append(append([]Reading(nil), was...), r)})
}
