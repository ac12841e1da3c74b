package board

import "slices"

// hotWork tells whether a job's chosen fix throws sparks: grinding or welding.
func hotWork(j Job) bool {
	return j.Fix().Station == StationGrind || j.Fix().Station == StationWeld
}

// fitsStation refuses a station that is not there or of another kind than the
// fix asks for. Nobody has to name one.
func (s State) fitsStation(j Job, at StationID) *Refusal {
	station, ok := s.Stations[at]
	switch {
	case at == "":
		return nil
	case !ok || station.Retired:
		return missing("station", "station")
	case station.Kind != j.Fix().Station:
		return badField("station", "Job %d asks for a station of the kind %s, and %s is of the kind %s.", j.Number, j.Fix().Station, station.Name, station.Kind).of(j)
	}
	return nil
}

// mayGrind refuses grinding and welding without the permit that the venue asks for.
func (t *turn) mayGrind(j Job) *Refusal {
	if hotWork(j) && !t.s().Event().HotWork.holds(t.now) {
		return refuse(CodeNotYet, "The venue asks for a hot-work permit, and none holds now. The captain enters its text, who gave it and until when, with the event's settings.")
	}
	return nil
}

// endedBy is when the permit stopped to hold, seen at now.
func (permit HotWork) endedBy(now Moment) Moment {
	if permit.Until != 0 && permit.Until < now {
		return permit.Until
	}
	return now
}

// sparksAt lists the places that a running job throws sparks at: that of the
// stations it is done at, whatever they are called by now, or, where someone did not say
// which, of all of its kind.
func (s State) sparksAt(j Job) []PlaceID {
	if j.State != JobRunning || !hotWork(j) || len(j.Stints) == 0 {
		return nil
	}
	named := map[StationID]bool{}
	for _, st := range j.AtWork() {
		named[st.Station] = true
	}
	var at []PlaceID
	for id, station := range s.Stations {
		anyOfKind := named[""] && !station.Retired && station.Kind == j.Fix().Station
		if station.Place != "" && (named[id] || anyOfKind) {
			at = append(at, station.Place)
		}
	}
	return at
}

// packPlace is where a pack is: its own place, or that of the robot it is in.
func (s State) packPlace(p Pack) PlaceID {
	if p.Robot != "" {
		return s.Powers[p.Robot].Place
	}
	return p.Place
}

// inSparks tells whether a pack is recorded where a job throws sparks: at its
// station's place, or in the robot that is ground or welded itself.
func (s State) inSparks(p Pack, j Job) bool {
	if p.Retired || p.State == PackGone || j.State != JobRunning || !hotWork(j) {
		return false
	}
	if p.Robot != "" && p.Robot == j.Robot && j.Fix().Where != OffRobot {
		return true
	}
	return slices.Contains(s.sparksAt(j), s.packPlace(p))
}

// rule15 keeps packs and the sparks of grinding and welding apart, whichever of
// the two came first.
func rule15(t *turn) *Refusal {
	for _, j := range Sorted(t.s().Jobs, jobOrder) {
		if j.State != JobRunning || !hotWork(j) {
			continue
		}
		for _, p := range Sorted(t.s().Packs, func(p Pack) string { return p.Name + string(p.ID) }) {
			if !t.s().inSparks(p, j) || t.before.inSparks(t.before.Packs[p.ID], t.before.Jobs[j.ID]) {
				continue
			}
			if p.State.setAside() {
				return breaks(15, "Pack %s, which is %s, is recorded where job %d throws sparks. Hold the job, and everyone away: event safety says what becomes of the pack.", p.Name, p.State, j.Number).of(j)
			}
			return breaks(15, "Pack %s is recorded where job %d throws sparks. Packs and grinding or welding are never in one place: move the pack elsewhere, hold the job, or say at which station the work is.", p.Name, j.Number).of(j)
		}
	}
	return nil
}
