package board_test

import (
	"fmt"
	"testing"
	"unicode"

	"github.com/go-json-experiment/json"
	"github.com/stretchr/testify/require"

	. "mendline/board"
)

// alike are spellings of one name. Where a row names a file of the Unicode Character
// Database, its two sides are that file's.
var alike = []struct{ a, b, source string }{
	{"\u1e9b\u0323", "s\u0323\u0307", "NormalizationTest.txt, 1E9B 0323, NFKD with the long s folded; from memory"},
	{"\u212b", "A\u030a", "NormalizationTest.txt, 212B, NFD; from memory"},
	{"\uff21", "A", "NormalizationTest.txt, FF21, NFKC; from memory"},
	{"\ufb01", "fi", "NormalizationTest.txt, FB01, NFKC; from memory"},
	{"\u2460", "1", "NormalizationTest.txt, 2460, NFKC; from memory"},
	{"\uac00", "\u1100\u1161", "NormalizationTest.txt, AC00, NFD; from memory"},
	{"\u00df", "ss", "CaseFolding.txt, 00DF; F"},
	{"\u1e9e", "ss", "CaseFolding.txt, 1E9E; F"},
	{"\u0130", "i\u0307", "CaseFolding.txt, 0130; F"},
	{"\u1e9b", "\u1e61", "CaseFolding.txt, 1E9B; C"},
	{"\u03c2", "\u03c3", "CaseFolding.txt, 03C2; C; from memory"},
	{"\ufb03", "ffi", "CaseFolding.txt, FB03; F; from memory"},
	{"\u1f88", "\u1f00\u03b9", "CaseFolding.txt, 1F88; F; from memory"},
	{"Zoe\u0308", "Zo\u00eb", "constructed by us: as one phone types it and as another"},
	{"Ada  Byte", "Ada Byte", "constructed by us: two spaces show as one"},
	{"Ada\u00a0Byte", "ADA BYTE", "constructed by us: a space that does not break"},
	{"Ada\u200b", "Ada", "constructed by us: on boards of earlier programs"},
	{"A\u00adda", "ada", "constructed by us: on boards of earlier programs"},
}

// apart are names that are not the same.
var apart = [][2]string{{"Ada", "Ade"}, {"Zoe", "Zo\u00eb"}, {"Ada Byte", "AdaByte"}, {"\u0131", "i"}, {"P1", "P11"}, {"P-1", "P1"}}

func TestNamesThatLookAlikeAreTheSame(t *testing.T) {
	for _, x := range alike {
		require.Equal(t, Folded(x.a), Folded(x.b), "%+q %+q: %s", x.a, x.b, x.source)
	}
	for _, x := range apart {
		require.NotEqual(t, Folded(x[0]), Folded(x[1]), "%+q", x)
	}
}

func TestNoNameIsTakenThatLooksLikeAnother(t *testing.T) {
	for _, x := range alike {
		p := newPit(t)
		if seenWhole(x.a) && seenWhole(x.b) {
			p.person(PersonFields{Name: "Mo " + x.a, Role: RoleCrew})
			bad := p.refused(p.as(p.ada), PersonAdd{PersonFields: PersonFields{Name: "Mo " + x.b, Role: RoleCrew}}, 0)
			require.Equal(t, CodeTaken, bad.Code, "%+q %+q", x.a, x.b)
		}
	}
	for _, x := range apart {
		p := newPit(t)
		p.captain(PlaceAdd{PlaceFields{Name: "Mo " + x[0], Kind: PlaceBench}})
		p.captain(PlaceAdd{PlaceFields{Name: "Mo " + x[1], Kind: PlaceBench}})
	}
}

func seenWhole(name string) bool {
	for _, r := range name {
		if Ignorable(r) {
			return false
		}
	}
	return true
}

func TestEveryKindOfNounThatIsToldByItsNameKeepsItFromALookAlike(t *testing.T) {
	p := newPit(t)
	p.captain(ConstructionAdd{ConstructionFields{Robot: p.moth, Name: "as built", Mends: []PartMend{{Group: "rail", Parts: []string{"rail"}, Name: "swap it", From: 1, LikelySec: 60, BadSec: 120}}}})
	lid := PartID(p.made(p.captain(PartAdd{PartFields{Robot: p.moth, Name: "lid"}})))
	p.captain(JointAdd{JointFields{Robot: p.moth, Name: "seam", Parts: []PartID{p.cast.Rail, lid}, Fastening: "screw", Count: 2}})
	for _, kind := range []Kind{
		KindPerson, KindRobot, KindPlace, KindStation, KindStock, KindPack, KindChannel, KindCircuit, KindTemplate,
		KindPart, KindJoint, KindModule, KindSetup, KindConstruction,
	} {
		one := p.oneOf(kind)
		_, id := one.Key().Split()
		there := p.s.With(Change{Rev: p.s.Rev + 1, Put: []Noun{p.but(one, id, "Zed 1")}, Done: Done{Rev: p.s.Rev + 1}})
		twin := p.but(one, NewID(newID(p.now, 1), kind, "twin"), "\uff3a\uff25\uff24\u3000\u2460")
		bad := NamesWith(there, twin)
		require.NotNil(t, bad, kind)
		require.Equal(t, CodeTaken, bad.Code, kind)
		require.Nil(t, NamesWith(p.s, twin), kind)
	}
}

func TestPartsOfTwoRobotsMayHaveOneName(t *testing.T) {
	p := newPit(t)
	fields := p.s.Robots[p.moth].RobotFields
	fields.Name, fields.Number = "Clay Wasp", 2
	wasp := RobotID(p.madeKind(KindRobot, p.captain(RobotAdd{RobotFields: fields})))
	p.captain(PartAdd{PartFields{Robot: wasp, Name: "rail"}})
	p.refused(p.as(p.ada), PartAdd{PartFields{Robot: wasp, Name: "RAIL"}}, 0)
}

func (p *pit) oneOf(k Kind) Noun {
	for _, n := range p.s.Nouns() {
		if kind, _ := n.Key().Split(); kind == k {
			return n
		}
	}
	p.t.Fatalf("no %s on the board", k)
	return nil
}

// but is a noun with another id and name.
func (p *pit) but(n Noun, id, name string) Noun {
	p.t.Helper()
	var fields map[string]any
	require.NoError(p.t, json.Unmarshal(Encode(n), &fields))
	require.Contains(p.t, fields, "name")
	fields["id"], fields["name"] = id, name
	data, err := json.Marshal(fields)
	require.NoError(p.t, err)
	kind, _ := n.Key().Split()
	n, err = DecodeNoun(KeyOf(kind, id), data)
	require.NoError(p.t, err)
	return n
}

// The count, and how the property is derived, are those of DerivedCoreProperties.txt,
// Unicode 15.1.0 (2023): "# Total code points: 4174".
func TestWhatNobodySeesIsWhatUnicodeSaysNobodySees(t *testing.T) {
	n := 0
	for r := rune(0); r <= unicode.MaxRune; r++ {
		if Ignorable(r) {
			n++
		}
	}
	require.Equal(t, 4174, n)
}

func TestANameWithACharacterNobodySeesIsRefused(t *testing.T) {
	p := newPit(t)
	for _, r := range []rune{0x200b, 0x2060, 0xad, 0x34f, 0x115f, 0x1160, 0x17b4, 0x180e, 0x2064, 0x2800, 0x3164, 0xfe00, 0xfe0f, 0xffa0, 0x200c, 0x200d, 0xe0041, 0xe0100} {
		for _, name := range []string{string(r), "Ved" + string(r), "Ve" + string(r) + "d", string(r) + "Ved"} {
			bad := p.refused(p.as(p.ada), PersonAdd{PersonFields: PersonFields{Name: name, Role: RoleCrew}}, 0)
			require.Equal(t, "name", bad.Field, "%+q", name)
			require.Equal(t, fmt.Sprintf("The name holds a character that nobody can see (%U). Delete the name and type it again by hand.", r), bad.Sentence)
		}
	}
	for _, r := range []rune{0x200e, 0x202e, 0x2066, 0x2028, 0xfeff} {
		bad := p.refused(p.as(p.ada), PersonAdd{PersonFields: PersonFields{Name: "Ve" + string(r) + "d", Role: RoleCrew}}, 0)
		require.Contains(t, bad.Sentence, "turns the writing direction")
	}
	bad := p.refused(p.as(p.ada), PersonAdd{PersonFields: PersonFields{Name: "\u0301", Role: RoleCrew}}, 0)
	require.Contains(t, bad.Sentence, "nothing that people can read")
}

// Spellings from memory, but for those of pictures, which are constructed by us.
func TestANameAsPeopleWriteItIsTaken(t *testing.T) {
	p := newPit(t)
	for _, name := range []string{
		"Zoë", "O’Neil", "李小龙", "김지우", "Ольга", "محمد", "B2", "Number 7", "ⵣⵉⵔⵉ", "⠁⠙⠁",
		"ශ්\u200dරී",                   // Sinhala, with a joiner
		"क्\u200dष",                    // Devanagari, with a joiner
		"علی\u200cرضا",                 // Persian, with a non-joiner
		"Bolt ⚡\ufe0f",                 // a picture in colour
		"👩🏽\u200d🔧",                    // a picture of two joined
		"\u2764\ufe0f\u200d\U0001f525", // and with both
	} {
		p.person(PersonFields{Name: name, Role: RoleCrew})
	}
}

func TestNamesOnABoardOfAnEarlierProgramGoOn(t *testing.T) {
	p := newPit(t)
	ben, one, two := p.s.People[p.ben], p.s.Packs[p.p1], p.s.Packs[p.p2]
	ben.Name, two.Name = "Be\u200bn", "\uff30"+one.Name[1:]
	p.s = p.s.With(Change{Rev: p.s.Rev + 1, Put: []Noun{ben, two}, Done: Done{Rev: p.s.Rev + 1, At: p.now}})

	p.captain(PersonBrief{Person: p.ben})
	p.captain(PackSet{Pack: p.p1, State: PackSuspect, Why: "warm"})
	p.captain(PackSet{Pack: p.p2, State: PackSuspect, Why: "warm"})
	p.captain(PersonChange{Person: p.ben, PersonFields: func() PersonFields { f := p.s.People[p.ben].PersonFields; f.Signer = true; return f }(), Reason: "signs from now on"})
	require.Equal(t, "Be\u200bn", p.s.People[p.ben].Name)

	bad := p.refused(p.as(p.ada), PersonAdd{PersonFields: PersonFields{Name: "Ben", Role: RoleCrew}}, 0)
	require.Equal(t, CodeTaken, bad.Code, "nobody else gets the name that Ben is read by")
	fields := p.s.People[p.ben].PersonFields
	fields.Name = "Ben\u200b"
	p.refused(p.as(p.ada), PersonChange{Person: p.ben, PersonFields: fields}, 0)
	fields.Name = "Ben"
	p.captain(PersonChange{Person: p.ben, PersonFields: fields})
}

func TestWhoWasTakenOffComesBackUnderANameThatLooksTheSame(t *testing.T) {
	p := newPit(t)
	p.captain(PersonRetire{Person: p.kit})
	p.captain(PersonAdd{PersonFields: PersonFields{Name: "\uff2b\uff29\uff34", Role: RoleCrew, Minor: true}})
	require.False(t, p.s.People[p.kit].Retired)
	p.captain(PackSet{Pack: p.p1, State: PackSuspect, Why: "warm"})
	fields := p.s.Packs[p.p1].PackFields
	fields.Name = "\uff50\u2460"
	p.refused(p.as(p.ada), PackAdd{fields}, 13)
	fields.Name = "P9"
	p.captain(PackAdd{fields})
}

func TestNoPersonIsAnotherBySpacesOrPunctuation(t *testing.T) {
	for _, name := range []string{"Bramwell.", "Bram well", "B ramwell", "Bram-well", "\"Bramwell\"", "BRAMWELL!", "Bramwell+"} {
		p := newPit(t)
		first := p.person(PersonFields{Name: "Bramwell", Role: RoleCrew})
		bad := p.refused(p.as(p.ada), PersonAdd{PersonFields: PersonFields{Name: name, Role: RoleCrew}}, 0)
		require.Equal(t, CodeTaken, bad.Code, name)
		p.captain(PersonRetire{Person: first})
		p.captain(PersonAdd{PersonFields: PersonFields{Name: name, Role: RoleCrew}})
		require.False(t, p.s.People[first].Retired, "%s: who was taken off comes back", name)
		require.Equal(t, name, p.s.People[first].Name)
	}
	p := newPit(t)
	for _, name := range []string{"Bramwell", "Bram W.", "Bram V.", "Bramwella", "Zoë O'Dun", "Zoe O'Dun", "Mo 1", "Mo 2"} {
		p.person(PersonFields{Name: name, Role: RoleCrew})
	}
}

func TestAPackHasNoNameThatReadsAsAnothers(t *testing.T) {
	for _, c := range []struct {
		has, name string
		same      bool
	}{
		{"P1", "P1", true}, {"P1", "Pack P1", true}, {"P1", "p-1", true}, {"P1", "P 01", true}, {"P1", "P.1", true},
		{"P1", "P_1", true}, {"P1", "P#1", true}, {"P1", "P10", false}, {"P1", "P11", false}, {"P1", "P1.1", false},
		{"2.1", "2-1", true}, {"2.1", "2 1", true}, {"2.1", "2.01", true}, {"2.1", "21", false},
		{"1-11", "11-1", false}, {"1-11", "111", false},
		{"#", "No.", false}, {"#", "-", false}, {"pack", "Pack 1", false},
	} {
		p := newPit(t)
		f := p.s.Packs[p.p2].PackFields
		f.Name = c.has
		if c.has != p.s.Packs[p.p1].Name {
			p.captain(PackAdd{f})
		}
		f.Name = c.name
		_, bad := p.try(p.as(p.ada), PackAdd{f})
		require.Equal(t, c.same, bad != nil, "%s beside %s", c.name, c.has)
		if c.same {
			require.Equal(t, CodeTaken, bad.Code)
		}
	}
}
