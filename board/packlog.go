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

func (l PackLog) Key() Key         { return KeyOf(KindPackLog, l.Pack) }
func (l PackLog) Rev() Rev         { return l.V }
func (l PackLog) stamp(r Rev) Noun { l.V = r; return l }

func (l PackLog) valid(s State) *Refusal {
	if _, ok := s.Packs[l.Pack]; !ok {
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
