package board

import (
	"slices"
	"strings"
)

// Template is a kind of job the team knows, with starting times.
type Template struct {
	ID TemplateID `json:"id"`
	V  Rev        `json:"v"`
	TemplateFields
	Retired bool `json:"retired,omitzero"`
	// Once is the most that it asked: where it asks less now, that prints.
	Once TemplateOnce `json:"once,omitzero"`
	// Loosened lists by whose word it asks less than it did.
	Loosened []Loosened `json:"loosened,omitempty"`
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
type TemplateAdd struct {
	TemplateFields
	// Reason says why, where one of this name was there and asked more.
	Reason string `json:"reason,omitzero"`
}

func (c TemplateAdd) do(t *turn) *Refusal {
	n := Template{ID: TemplateID(t.id(KindTemplate, string(c.Size)+" "+c.Name)), TemplateFields: c.TemplateFields}
	if was, ok := t.s().templateTakenOff(n); ok {
		n.Once = was.Once.after(was.TemplateFields)
		if less := was.asksLess(n); less != "" {
			n.Loosened = []Loosened{t.word(less, c.Reason)}
		}
	}
	t.put(n)
	return nil
}

// TemplateChange replaces what is said of a kind of job.
type TemplateChange struct {
	Template TemplateID `json:"template"`
	TemplateFields
	// Reason says why, where it asks less than it did.
	Reason string `json:"reason,omitzero"`
}

func (c TemplateChange) do(t *turn) *Refusal {
	return edit(t, t.s().Templates, c.Template, missing("job template", "template"), func(n *Template) {
		was := *n
		n.Once = n.Once.after(n.TemplateFields)
		n.TemplateFields = c.TemplateFields
		if less := was.asksLess(*n); less != "" {
			n.Loosened = append(slices.Clip(n.Loosened), t.word(less, c.Reason))
		}
	})
}

// asksLess says what a kind of job asks no more after a change: to be a must, or of the fix
// of a name, or which work in the robot asks for no lockout that was not there; "" for
// nothing.
func (template Template) asksLess(is Template) string {
	var less []string
	if template.Triage == Must && is.Triage != Must {
		less = append(less, "it is no must any more")
	}
	had := TemplateOnce{Fixes: template.Fixes}
	for _, fix := range is.Fixes {
		if more := had.of(fix).asksMore(fix); len(more) > 0 {
			less = append(less, cut(fix.Name, 40)+" without "+listNames(more))
		} else if fix.bare() && !slices.ContainsFunc(template.Fixes, func(old Fix) bool { return old.bare() && fix.sameWork(old) }) {
			less = append(less, "no lockout for "+cut(fix.Name, 40))
		}
	}
	return strings.Join(less, "; ")
}

// rule8Templates has a kind of job ask less only with a reason: where it is
// changed so, and where one of a name that was taken off the board is entered so.
func rule8Templates(t *turn) *Refusal {
	for id, is := range inOrder(t.s().Templates) {
		was, had := t.before.Templates[id]
		said := is.Loosened[min(len(was.Loosened), len(is.Loosened)):]
		if !had {
			was, had = t.before.templateTakenOff(is)
		}
		if !had || t.undoing || is.Retired {
			continue
		}
		if less := was.asksLess(is); less != "" && (len(said) == 0 || checkReason("reason", said[len(said)-1].Reason) != nil) {
			return &Refusal{Code: CodeSafety, Rule: 8, Field: "reason", Sentence: is.Name + ": " + less + ". Say in a few words why: it stands in the review."}
		}
	}
	return nil
}

// templateTakenOff is a kind of job of the same name and size that was taken off the board.
func (s State) templateTakenOff(is Template) (Template, bool) {
	for _, was := range Sorted(s.Templates, func(was Template) string { return string(was.ID) }) {
		if was.Retired && was.Size == is.Size && Folded(was.Name) == Folded(is.Name) {
			return was, true
		}
	}
	return Template{}, false
}

// TemplateRetire takes a kind of job off the board.
type TemplateRetire struct {
	Template TemplateID `json:"template"`
}

func (c TemplateRetire) do(t *turn) *Refusal {
	return edit(t, t.s().Templates, c.Template, missing("job template", "template"), func(n *Template) { n.Retired = true })
}
