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
// which, of all of its kind; and where its robot stands, if it is done on that.
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
	if place := s.Powers[j.Robot].Place; place != "" && j.Fix().Where != OffRobot {
		at = append(at, place)
	}
	return at
}

// rule15Stays lets no station at which a job throws sparks be elsewhere, or nowhere, before
// the job is over or on hold.
func rule15Stays(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		k, id := key.Split()
		was := t.before.Stations[StationID(id)]
		if k != KindStation || was.Place == "" {
			continue
		}
		for _, j := range inJobOrder(t.s()) {
			if slices.Contains(t.before.sparksAt(j), was.Place) && !slices.Contains(t.s().sparksAt(j), was.Place) {
				return breaks(15, "Job %d throws sparks at %s. Hold it or finish it first, then say where the station stands.", j.Number, was.Name).of(j)
			}
		}
	}
	return nil
}

// Sparks is a pack that is recorded where a job throws sparks.
type Sparks struct {
	Pack PackID
	Job  JobID
}

// InSparks lists the packs where grinding or welding goes on: someone found them there.
func (s State) InSparks() []Sparks {
	var list []Sparks
	for _, j := range inJobOrder(s) {
		for _, p := range Sorted(s.Packs, func(p Pack) string { return p.Name + string(p.ID) }) {
			if s.inSparks(p, j) {
				list = append(list, Sparks{Pack: p.ID, Job: j.ID})
			}
		}
	}
	return list
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
// the two came first. That one was found there is always heard, and an alarm.
func rule15(t *turn) *Refusal {
	if c, ok := t.command.(PackMove); ok && c.Found {
		return nil
	}
	for _, j := range inJobOrder(t.s()) {
		if j.State != JobRunning || !hotWork(j) {
			continue
		}
		for _, p := range Sorted(t.s().Packs, func(p Pack) string { return p.Name + string(p.ID) }) {
			was := t.before.Packs[p.ID]
			begun := p.State == PackCharging && was.State != PackCharging && t.by.Role != RoleSystem
			if !t.s().inSparks(p, j) || !begun && t.before.inSparks(was, t.before.Jobs[j.ID]) {
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
