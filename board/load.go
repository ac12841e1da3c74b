package board

// TeamLoad fills an empty board with a team: event settings, places, people,
// robots, stations, spares, circuits, channels, packs, job templates, part maps,
// setups and the running order, all or nothing. Whoever has joined
// stays, and a row with their name is theirs. The ids of what it loads are those NewID makes
// from the command's id, the kind and the name.
type TeamLoad struct {
	Event         EventFields    `json:"event"`
	Places        []Place        `json:"places,omitempty"`
	People        []Person       `json:"people,omitempty"`
	Robots        []Robot        `json:"robots,omitempty"`
	Stations      []Station      `json:"stations,omitempty"`
	Stocks        []Stock        `json:"stocks,omitempty"`
	Circuits      []Circuit      `json:"circuits,omitempty"`
	Channels      []Channel      `json:"channels,omitempty"`
	Packs         []Pack         `json:"packs,omitempty"`
	Templates     []Template     `json:"templates,omitempty"`
	Parts         []Part         `json:"parts,omitempty"`
	Joints        []Joint        `json:"joints,omitempty"`
	Modules       []Module       `json:"modules,omitempty"`
	Setups        []Setup        `json:"setups,omitempty"`
	Constructions []Construction `json:"constructions,omitempty"`
	Fights        []Fight        `json:"fights,omitempty"`
}

func (c TeamLoad) do(t *turn) *Refusal {
	if s := t.s(); len(s.Robots)+len(s.Jobs)+len(s.Packs)+len(s.Fights) > 0 {
		return refuse(CodeState, "The board holds a team already. A team is loaded into an empty board, without robots, packs, jobs and fights: start with another data folder.")
	}
	event := EventSet{EventFields: c.Event}
	if t.s().Event().Name != "" {
		event.Reason = loadReason
	}
	for _, n := range c.nouns() {
		if person, is := n.(Person); is {
			if was, there := t.before.People[person.ID]; there && !t.did[n.Key()] {
				if bad := t.named(was, person.PersonFields); bad != nil {
					return bad
				}
				continue
			}
		}
		if _, id := n.Key().Split(); !isID(id) {
			return badField("team", "%s has no proper id.", n.Key())
		}
		if _, there := t.s().Get(n.Key()); there {
			return badField("team", "%s is there twice.", n.Key())
		}
		t.put(n)
	}
	for _, r := range c.Robots {
		t.becomeUnknown(Power{Robot: r.ID, State: Unknown}, "new on the board", false)
	}
	return event.do(t)
}

// loadReason stands in the review where a folder says more of a person, or less of the
// event, than the board did.
const loadReason = "the team folder that was loaded says so"

// named enters what the folder says of somebody who is on the roster. Their role is the
// one they joined with: a name in a file makes nobody captain or event safety.
func (t *turn) named(was Person, f PersonFields) *Refusal {
	switch {
	case was.Retired || FoldedPerson(was.Name) != FoldedPerson(f.Name):
		return badField("team", "%s is there twice.", was.Key())
	case was.Role != f.Role:
		return badField("role", "%s is %s on the board: a folder changes nobody's role. Change it on the roster, or in the folder.", was.Name, was.Role)
	}
	is := was
	is.PersonFields = f
	t.put(t.grown(was, is, loadReason))
	return nil
}

// nouns lists what is loaded as it begins its day: packs unread, or still set aside, and in
// the robot that they were in; people not yet claimed.
func (c TeamLoad) nouns() []Noun {
	var all []Noun
	for _, n := range c.Places {
		all = append(all, Place{ID: n.ID, PlaceFields: n.PlaceFields})
	}
	for _, n := range c.People {
		all = append(all, Person{ID: n.ID, PersonFields: n.PersonFields})
	}
	for _, n := range c.Robots {
		all = append(all, Robot{ID: n.ID, RobotFields: n.RobotFields, Withdrawn: n.Withdrawn})
	}
	for _, n := range c.Stations {
		all = append(all, Station{ID: n.ID, StationFields: n.StationFields})
	}
	for _, n := range c.Stocks {
		all = append(all, Stock{ID: n.ID, StockFields: n.StockFields})
	}
	for _, n := range c.Circuits {
		all = append(all, Circuit{ID: n.ID, CircuitFields: n.CircuitFields})
	}
	for _, n := range c.Channels {
		all = append(all, Channel{ID: n.ID, ChannelFields: n.ChannelFields})
	}
	for _, n := range c.Packs {
		p := Pack{ID: n.ID, PackFields: n.PackFields, Place: n.Place, State: PackUnread}
		if n.Robot != "" {
			p.Robot, p.Place, p.State, p.Unread, p.Found = n.Robot, "", PackInRobot, true, true
		}
		if n.State.setAside() {
			p.State = n.State
		}
		all = append(all, p)
	}
	for _, n := range c.Templates {
		all = append(all, Template{ID: n.ID, TemplateFields: n.TemplateFields})
	}
	for _, n := range c.Parts {
		all = append(all, Part{ID: n.ID, PartFields: n.PartFields})
	}
	for _, n := range c.Joints {
		all = append(all, Joint{ID: n.ID, JointFields: n.JointFields})
	}
	for _, n := range c.Modules {
		all = append(all, Module{ID: n.ID, ModuleFields: n.ModuleFields})
	}
	for _, n := range c.Setups {
		all = append(all, Setup{ID: n.ID, SetupFields: n.SetupFields})
	}
	for _, construction := range c.Constructions {
		all = append(all, Construction{ID: construction.ID, ConstructionFields: construction.ConstructionFields})
	}
	for _, n := range c.Fights {
		all = append(all, Fight{ID: n.ID, FightFields: n.FightFields, State: FightPlanned})
	}
	return all
}
