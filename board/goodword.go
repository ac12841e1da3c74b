package board

import (
	"slices"
	"strings"
	"unicode"
)

// goodWords are what nothing on the board is called: each says of people, power or packs
// what only a look can say. "Failsafe" is another word.
var goodWords = [][]string{{"safe"}, {"safely"}, {"clear"}, {"cleared"}, {"all", "ok"}, {"all", "okay"}, {"all", "good"}, {"all", "fine"}}

// goodWord finds one of them in what a noun of a kind says, however it is spelled; "" for
// none.
func goodWord(kind Kind, text string) string {
	words := strings.FieldsFunc(Folded(text), func(r rune) bool { return !unicode.In(r, unicode.L, unicode.M) })
	if good := spacedOut(words); good != "" {
		return good
	}
	for i := range words {
		if i == 0 && (kind == KindJob || kind == KindTemplate) && clears(words) {
			continue
		}
		for _, good := range goodWords {
			ends := i + len(good)
			if ends <= len(words) && slices.Equal(words[i:ends], good) && (i == 0 || words[i-1] != "fail") {
				return strings.Join(good, " ")
			}
		}
	}
	return ""
}

// spacedOut finds a good word that is written letter by letter: s a f e.
func spacedOut(words []string) string {
	var text strings.Builder
	for _, word := range words {
		if len([]rune(word)) > 1 {
			word = "|"
		}
		text.WriteString(word)
	}
	for _, good := range goodWords {
		if strings.Contains(strings.ReplaceAll(text.String(), "failsafe", "|"), strings.Join(good, "")) {
			return strings.Join(good, " ")
		}
	}
	return ""
}

// stateOfClear are the words that make a "clear" before them a state: clear of people,
// clear to start.
var stateOfClear = []string{"of", "to", "for", "and", "or", "so", "now", "by", "at", "in", "on", "since", "until", "till", "here", "there", "again", "ok", "okay", "yes"}

// clears tells whether a job begins with what is done to something: clear the swarf.
func clears(words []string) bool {
	return len(words) > 1 && words[0] == "clear" && !slices.Contains(stateOfClear, words[1])
}

// rule23 lets nobody word a line, or name a thing, a job or a person, in words that
// call something good that nobody has looked at.
func rule23(t *turn) *Refusal {
	for _, key := range sortedKeys(t.did) {
		field, is := labelled(t.s(), key)
		_, was := labelled(t.before, key)
		kind, _ := key.Split()
		if kind == KindJob {
			for _, template := range t.before.Templates {
				was = append(was, template.Name)
			}
		}
		for _, text := range is {
			if word := goodWord(kind, text); word != "" && !slices.Contains(was, text) {
				return &Refusal{Code: CodeSafety, Rule: 23, Field: field,
					Sentence: "\"" + cut(text, 60) + "\" says \"" + word + "\", which nobody knows before they have looked. Say what is seen, or where it is: people away, cover on, shelf by the door."}
			}
		}
	}
	return nil
}

// labelled is what a noun says on screens and sheets in words of the captain's.
func labelled(s State, key Key) (field string, texts []string) {
	switch k, id := key.Split(); k {
	case KindPlace:
		return "name", []string{s.Places[PlaceID(id)].Name}
	case KindStation:
		return "name", []string{s.Stations[StationID(id)].Name}
	case KindPack:
		return "name", []string{s.Packs[PackID(id)].Name}
	case KindRobot:
		r := s.Robots[RobotID(id)]
		texts = []string{r.Name}
		for _, energy := range r.Energies {
			texts = append(texts, energy.Isolator)
		}
		return "name", texts
	case KindSetup:
		return "name", []string{s.Setups[SetupID(id)].Name}
	case KindModule:
		return "name", []string{s.Modules[ModuleID(id)].Name}
	case KindCircuit:
		return "name", []string{s.Circuits[CircuitID(id)].Name}
	case KindChannel:
		return "name", []string{s.Channels[ChannelID(id)].Name, s.Channels[ChannelID(id)].Charger}
	case KindJob:
		return "name", []string{s.Jobs[JobID(id)].Name}
	case KindTemplate:
		return "name", []string{s.Templates[TemplateID(id)].Name}
	case KindPerson:
		return "name", []string{s.People[PersonID(id)].Name}
	case KindWording:
		for _, worded := range s.Wordings[SheetList(id)].Lines {
			texts = append(append(texts, worded.Ask, worded.Touch, worded.Say, worded.Not, worded.Unit), worded.Choices...)
		}
	}
	return "lines", texts
}
