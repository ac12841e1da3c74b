package board_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	. "mendline/board"
)

func TestAFormThatWasOpenBeforeBringsNoWithdrawnRobotBack(t *testing.T) {
	p := newPit(t)
	form := RobotChange{Robot: p.moth, RobotFields: p.s.Robots[p.moth].RobotFields}
	p.makeSafe()
	p.captain(RobotWithdraw{Robot: p.moth})
	require.True(t, p.s.Robots[p.moth].Withdrawn)
	require.Equal(t, Verified, p.state(), "it keeps its lockout")
	form.Weight = 3
	p.captain(form)
	require.True(t, p.s.Robots[p.moth].Withdrawn)
	require.Equal(t, 3, p.s.Robots[p.moth].Weight)
	_, bad := Decode("robot.change", []byte(`{"robot":"r","withdrawn":false}`))
	require.Equal(t, "withdrawn", bad.Field, "a page from before cannot say it either")
}

func TestARobotIsWithdrawnAndTakenBackInByTheCaptainOnceEach(t *testing.T) {
	p := newPit(t)
	_, bad := p.try(p.as(p.ada), RobotBackIn{Robot: p.moth})
	require.Equal(t, CodeNothingToDo, bad.Code)
	p.ok(p.as(p.ada), RobotWithdraw{Robot: p.moth})
	_, bad = p.try(p.as(p.ada), RobotWithdraw{Robot: p.moth})
	require.Equal(t, CodeNothingToDo, bad.Code)
	_, bad = p.try(p.as(p.ben), RobotBackIn{Robot: p.moth})
	require.Equal(t, CodeForbidden, bad.Code)
	done := p.ok(p.as(p.ada), RobotBackIn{Robot: p.moth})
	require.False(t, p.s.Robots[p.moth].Withdrawn)
	p.ok(p.as(p.ada), Undo{Command: done.Done.ID})
	require.True(t, p.s.Robots[p.moth].Withdrawn)
}

// A robot was stored with its other fields when it was withdrawn by robot.change.
func TestARobotThatWasWithdrawnBeforeIsReadBack(t *testing.T) {
	n, err := DecodeNoun("robot/r", []byte(`{"id":"r","v":4,"name":"Tin Moth","number":1,"class":{"name":"beetleweight","limit":3,"unit":"lb","ruleSet":"house rules 2"},"size":"light","hands":2,"beforeSec":540,"afterSec":300,"weight":1,"withdrawn":true}`))
	require.NoError(t, err)
	require.True(t, n.(Robot).Withdrawn)
}

func TestARobotOfABoardWithASettingThatIsGoneIsRead(t *testing.T) {
	const was = `{"id":"r","v":4,"name":"Tin Moth","number":1,"class":{"name":"beetleweight","limit":3,"unit":"lb","ruleSet":"house rules 2"},"size":"light","hands":2,"beforeSec":540,"afterSec":300,"packInOutside":true,"weight":1}`
	n, err := DecodeNoun("robot/r", []byte(was))
	require.NoError(t, err)
	require.Equal(t, "Tin Moth", n.(Robot).Name)
	require.NotContains(t, string(Encode(n)), "packInOutside")
	_, err = DecodeNoun("robot/r", []byte(`{"packInside":true,`+was[1:]))
	require.Error(t, err, "no other field is passed over")
}
