package server

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

func TestRule11AsksAgainForAHardlyLikelyWeightOverHTTP(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	weighed := func() board.Weighing { return p.d.View().State.Fits[p.moth].Weighed }
	one := board.RobotWeigh{Robot: p.moth, Grams: 1}
	bad := ben.do(one).refused(http.StatusUnprocessableEntity, board.CodeUnlikely)
	require.Equal(t, "sure", bad.Field)
	require.Contains(t, bad.Sentence, "1 g is under half of the 1360.8 g limit")
	require.Zero(t, weighed().At)
	one.Sure = true
	guest := device{p: p, token: decode[JoinedAnswer](t, p.tryJoin(JoinAsk{Code: pitCodes[board.RoleCrew], Name: "Zed", PIN: somePIN}).ok().body).Token}
	for _, d := range []device{guest, p.join(board.RoleCrew, "Kit")} {
		d.do(one).refused(http.StatusConflict, board.CodeSafety)
	}
	require.Zero(t, weighed().At)
	ben.do(one).ok()
	require.Equal(t, 1.0, weighed().Grams)
	ben.do(board.RobotWeigh{Robot: p.moth, Grams: 1340}).ok()
	require.Equal(t, 1340.0, weighed().Grams)
}
