package board

// Construction is one way to build a robot's structure, as data for the debrief:
// what is built, or what might be. It changes nothing on the board.
type Construction struct {
	ID ConstructionID `json:"id"`
	V  Rev            `json:"v"`
	ConstructionFields
	Retired bool `json:"retired,omitzero"`
}

// ConstructionFields are what the team says of a construction.
type ConstructionFields struct {
	Robot RobotID `json:"robot"`
	Name  string  `json:"name"`
	// Built tells that the robot is built so: the recorded damage is this one's.
	Built bool `json:"built,omitzero"`
	// Guessed tells that nobody has mended one: its times are opinions.
	Guessed   bool    `json:"guessed,omitzero"`
	MassGrams float64 `json:"massGrams,omitzero"`
	// ListCents is what a whole one costs by the list.
	ListCents int        `json:"listCents,omitzero"`
	Mends     []PartMend `json:"mends"`
	Notes     string     `json:"notes,omitzero"`
}

// PartMend is what it takes to put a group of parts right when at least From of
// them are hit in one fight, up to the group's next From. Rows of one group name
// belong together; parts, way in and fasteners are those of its first row.
type PartMend struct {
	Group string `json:"group"`
	// Parts are names as damage is filed on them.
	Parts []string `json:"parts,omitempty"`
	// AccessSec and AccessBadSec are the likely and the bad time to reach the group,
	// spent once a fight; both 0 for none.
	AccessSec    int `json:"accessSec,omitzero"`
	AccessBadSec int `json:"accessBadSec,omitzero"`
	// Joints is how many fasteners hold the group.
	Joints int `json:"joints,omitzero"`
	// Name says what is done: "swap the rail", "a new frame".
	Name string `json:"name"`
	From int    `json:"from"`
	// Each counts time and money once a part hit, else once a fight.
	Each      bool `json:"each,omitzero"`
	LikelySec int  `json:"likelySec"`
	BadSec    int  `json:"badSec"`
	CostCents int  `json:"costCents,omitzero"`
}

const (
	mendsMost     = 40
	mendPartsMost = 40
)

func (construction Construction) Key() Key         { return KeyOf(KindConstruction, construction.ID) }
func (construction Construction) Rev() Rev         { return construction.V }
func (construction Construction) stamp(r Rev) Noun { construction.V = r; return construction }

func (construction Construction) called() (name, among string, inUse bool) {
	return construction.Name, string(construction.Robot), !construction.Retired
}

func (construction Construction) valid(s State) *Refusal {
	bad := first(
		checkName("name", construction.Name),
		checkRange("massGrams", construction.MassGrams, 0, partMassMost, "g"),
		checkRange("listCents", construction.ListCents, 0, partCentsMost, "cents"),
		checkRange("mends", len(construction.Mends), 1, mendsMost, "rows"),
		checkNote("notes", construction.Notes),
		each(construction.Mends, PartMend.valid),
	)
	if bad != nil {
		return bad
	}
	if _, ok := s.Robots[construction.Robot]; !ok {
		return missing("robot", "robot")
	}
	return first(construction.validGroups(), construction.onlyBuilt(s))
}

func (m PartMend) valid() *Refusal {
	return first(
		checkName("mends", m.Group),
		checkRange("mends", len(m.Parts), 0, mendPartsMost, "parts"),
		each(m.Parts, func(p string) *Refusal { return checkName("mends", p) }),
		checkTimes("mends", "mends", m.AccessSec, m.AccessBadSec),
		checkRange("mends", m.Joints, 0, 999, "fasteners"),
		checkName("mends", m.Name),
		checkRange("mends", m.From, 1, mendPartsMost, "parts hit"),
		checkRange("mends", m.LikelySec, 1, partSecMost, "seconds"),
		checkRange("mends", m.BadSec, m.LikelySec, partSecMost, "seconds (the bad case is no shorter than the likely time)"),
		checkRange("mends", m.CostCents, 0, partCentsMost, "cents"),
	)
}

// validGroups refuses a group without parts, a part in two groups, and rows of a
// group that do not begin at one part hit or do not rise.
func (construction Construction) validGroups() *Refusal {
	last, owner := map[string]int{}, map[string]string{}
	for _, m := range construction.Mends {
		from, seen := last[m.Group]
		switch {
		case !seen && len(m.Parts) == 0:
			return badField("mends", "Group %s has no parts. Name those that damage is filed on.", m.Group)
		case !seen && m.From != 1:
			return badField("mends", "Group %s begins at %d parts hit. Its first row says what one takes.", m.Group, m.From)
		case seen && m.From <= from:
			return badField("mends", "Group %s: %d parts hit come after %d. Let each row of a group begin at more.", m.Group, m.From, from)
		case seen && len(m.Parts) > 0:
			return badField("mends", "Group %s names its parts twice. Name them in its first row.", m.Group)
		}
		last[m.Group] = m.From
		for _, p := range m.Parts {
			if other, taken := owner[p]; taken {
				return badField("mends", "%s is in the group %s already.", p, other)
			}
			owner[p] = m.Group
		}
	}
	return nil
}

func (construction Construction) onlyBuilt(s State) *Refusal {
	for _, o := range inOrder(s.Constructions) {
		if construction.Built && !construction.Retired && o.Built && !o.Retired && o.Robot == construction.Robot && o.ID != construction.ID {
			return badField("built", "%s is built as %s already. Say of that one first that it is not.", s.Robots[construction.Robot].Name, o.Name)
		}
	}
	return nil
}

// ConstructionAdd enters a construction.
type ConstructionAdd struct{ ConstructionFields }

func (c ConstructionAdd) do(t *turn) *Refusal {
	t.put(Construction{ID: ConstructionID(t.id(KindConstruction, string(c.Robot)+" "+c.Name)), ConstructionFields: c.ConstructionFields})
	return nil
}

// ConstructionChange replaces what is said of a construction. It stays with its
// robot.
type ConstructionChange struct {
	Construction ConstructionID `json:"construction"`
	ConstructionFields
}

func (c ConstructionChange) do(t *turn) *Refusal {
	construction, ok := t.s().Constructions[c.Construction]
	if !ok {
		return missing("construction", "construction")
	}
	if c.Robot != construction.Robot {
		return staysWithRobot("construction")
	}
	construction.ConstructionFields = c.ConstructionFields
	t.put(construction)
	return nil
}

// ConstructionRetire takes a construction out of the comparison.
type ConstructionRetire struct {
	Construction ConstructionID `json:"construction"`
}

func (c ConstructionRetire) do(t *turn) *Refusal {
	return edit(t, t.s().Constructions, c.Construction, missing("construction", "construction"), func(n *Construction) { n.Retired = true })
}
