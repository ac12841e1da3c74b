package board

// Template is a kind of job the team knows, with starting times.
type Template struct {
	ID TemplateID `json:"id"`
	V  Rev        `json:"v"`
	TemplateFields
	Retired bool `json:"retired,omitzero"`
}

// TemplateFields are what the captain says of a kind of job.
type TemplateFields struct {
	Name string `json:"name"`
	// Size is the robots it is for.
	Size   Size   `json:"size"`
	Triage Triage `json:"triage"`
	Fixes  []Fix  `json:"fixes"`
}

func (m Template) Key() Key         { return KeyOf(KindTemplate, m.ID) }
func (m Template) Rev() Rev         { return m.V }
func (m Template) stamp(r Rev) Noun { m.V = r; return m }

func (m Template) valid(s State) *Refusal {
	r := first(
		checkName("name", m.Name),
		oneOf("size", m.Size, Heavy, Light),
		knownTriage("triage", m.Triage),
		validFixes(s, m.Fixes),
	)
	if r == nil && !m.Retired && sameName(s.Templates, m.ID, m.Name, func(o Template) (string, bool) { return o.Name, !o.Retired && o.Size == m.Size }) {
		r = nameTaken(m.Name)
	}
	return r
}

// TemplateAdd enters a kind of job.
type TemplateAdd struct{ TemplateFields }

func (c TemplateAdd) do(t *turn) *Refusal {
	t.put(Template{ID: TemplateID(t.id(KindTemplate, string(c.Size)+" "+c.Name)), TemplateFields: c.TemplateFields})
	return nil
}

// TemplateChange replaces what is said of a kind of job.
type TemplateChange struct {
	Template TemplateID `json:"template"`
	TemplateFields
}

func (c TemplateChange) do(t *turn) *Refusal {
	m, ok := t.s().Templates[c.Template]
	if !ok {
		return missing("job template", "template")
	}
	m.TemplateFields = c.TemplateFields
	t.put(m)
	return nil
}

// TemplateRetire takes a kind of job off the board.
type TemplateRetire struct {
	Template TemplateID `json:"template"`
}

func (c TemplateRetire) do(t *turn) *Refusal {
	m, ok := t.s().Templates[c.Template]
	if !ok {
		return missing("job template", "template")
	}
	m.Retired = true
	t.put(m)
	return nil
}
