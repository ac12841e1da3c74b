package server

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestASignerWithoutADeviceSetsTheirFirstPINOnTheCaptains(t *testing.T) {
	p := newPit(t)
	ada, ben, dee := p.captain(), p.crew(), p.safety()
	ada.do(board.PersonAdd{PersonFields: board.PersonFields{Name: "Orla", Role: board.RoleCrew, Signer: true, From: "the officials"}}).ok()
	official, _ := p.s.personCalled("Orla")
	first := func(d device, who board.PersonID, pin string) answer {
		return d.post("/api/pins/first", map[string]any{"person": who, "pin": pin})
	}
	for name, d := range map[string]device{"crew": ben, "safety": dee, "wall": p.wall()} {
		first(d, official.ID, somePIN).refused(http.StatusForbidden, board.CodeForbidden)
		require.False(t, p.s.pins.has(official.ID), name)
	}
	p.nobody().post("/api/pins/first", map[string]any{"person": official.ID, "pin": somePIN}).refused(http.StatusUnauthorized, codeNoSession)
	first(ada, "nobody", somePIN).refused(http.StatusNotFound, board.CodeUnknown)
	first(ada, p.kit, somePIN).refused(http.StatusForbidden, board.CodeForbidden)
	first(ada, p.dee, "112358").refused(http.StatusConflict, board.CodeTaken)
	first(ada, official.ID, "12").refused(http.StatusForbidden, board.CodeNeedProof)

	before := p.d.View().State.Rev
	first(ada, official.ID, somePIN).ok()
	require.Equal(t, before+1, p.d.View().State.Rev, "it stands in the journal")
	require.Equal(t, p.ada, p.d.View().State.People[official.ID].ClaimedOn)
	first(ada, official.ID, "112358").refused(http.StatusConflict, board.CodeTaken)

	sheet, _ := p.d.View().State.Sheet(p.moth, board.ListMakeSafe)
	ask := p.command(board.SheetAnswer{Sheet: sheet.ID, Line: sheet.Lines[0].ID, Said: board.SaidNo, Person: official.ID})
	ask.Pins = []Pin{{official.ID, "112358"}}
	ada.post("/api/do", ask).refused(http.StatusForbidden, board.CodeNeedProof)
	ada.do(board.PersonChange{Person: official.ID, PersonFields: board.PersonFields{
		Name: "Orla", Role: board.RoleCrew, Signer: true, From: "the officials", Authorised: []board.EnergyKind{board.EnergyWeapon},
	}}).ok()
	ask.ID, ask.Pins = p.newID().String(), []Pin{{official.ID, somePIN}}
	ada.post("/api/do", ask).ok()
	answers := p.d.View().State.Sheets[sheet.ID].Answers
	require.Equal(t, official.ID, answers[0].By)
	require.Equal(t, p.ada, answers[0].On, "it says whose device it was given on")

	ada.post("/api/pins/forget", map[string]any{"person": official.ID}).ok()
	first(ada, official.ID, "112358").ok()
	ada.post("/api/pins/forget", map[string]any{"person": p.dee}).ok()
	first(ada, p.dee, somePIN).refused(http.StatusConflict, board.CodeTaken)
	p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Orla", PIN: "112358"}).ok()
}
