package board

// Template is a kind of job the team knows, with starting times.
type Template struct {
	ID TemplateID `json:"id"`
	V  Rev        `json:"v"`
	TemplateFields
	Retired bool `json:"retired,omitzero"`
	// Once is the most that it asked: where it asks less now, that prints.
	Once TemplateOnce `json:"once,omitzero"`
}

// TemplateFields are what the captain says of a kind of job.
type TemplateFields struct {
	Name string `json:"name"`
	// Size is the robots it is for.
	Size   Size   `json:"size"`
	Triage Triage `json:"triage"`
	Fixes  []Fix  `json:"fixes"`
}

func (template Template) Key() Key         { return KeyOf(KindTemplate, template.ID) }
func (template Template) Rev() Rev         { return template.V }
func (template Template) stamp(r Rev) Noun { template.V = r; return template }

func (template Template) called() (name, among string, inUse bool) {
	return template.Name, string(template.Size), !template.Retired
}

func (template Template) valid(s State) *Refusal {
	bad := first(
		checkName("name", template.Name),
		oneOf("size", template.Size, Heavy, Light),
		knownTriage("triage", template.Triage),
		validFixes(s, template.Fixes),
	)
	return bad
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
	return edit(t, t.s().Templates, c.Template, missing("job template", "template"), func(n *Template) {
		n.Once = n.Once.after(n.TemplateFields)
		n.TemplateFields = c.TemplateFields
	})
}

// TemplateRetire takes a kind of job off the board.
type TemplateRetire struct {
	Template TemplateID `json:"template"`
}

func (c TemplateRetire) do(t *turn) *Refusal {
	return edit(t, t.s().Templates, c.Template, missing("job template", "template"), func(n *Template) { n.Retired = true })
}
