package main

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"mendline/board"
)

// The captain sees the plan people follow as a time line, puts another person on a
// job and sees what that changed.
func TestBrowserTheCaptainSeesThePlanAndWhatChanged(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(captain, board.RoleCaptain, "Ottoline")
	captain.open(s.url + "/#/captain/plan")
	captain.sees("the plan people follow")
	captain.sees("found by the board")
	captain.shot("captain-plan")
	follow := s.desk.View().State.Follow()
	require.NotEmpty(t, follow.Tasks)
	require.Equal(t, board.FollowBoard, follow.By)

	job, other := s.another(t, follow)
	require.Equal(t, 200, captain.asks("job.assign", fmt.Sprintf(`{"job":%q,"people":[%q]}`, job, other)).Status)
	captain.sees("changed at")
	captain.waits(`[...document.querySelectorAll(".block")].some((x) => x.getAttribute("aria-label").includes("changed since the plan before"))`, "the changed block")
	captain.sees("was")
	captain.shot("captain-plan-changed")
	captain.press("10 min granted")
	captain.sees("postponed by 10 min at")
	captain.sees("can't be postponed")
	captain.press("own")
	captain.sees("the team’s own times count")
	captain.shot("captain-plan-postponed")
	require.Empty(t, captain.accessible("plan"))

	captain.open(s.url + "/#/captain/order")
	captain.press("the officials have it")
	captain.sees("the gap stands still")
	captain.press("it is back from them")
	captain.sees("the gap runs again")
	captain.sees("the officials had it from")
}

// another finds a job that nobody works on and someone who is not planned for it.
func (s *served) another(t *testing.T, follow board.Follow) (board.JobID, board.PersonID) {
	t.Helper()
	state := s.desk.View().State
	for _, k := range follow.Tasks {
		if j := state.Jobs[k.Job]; j.State == board.JobRunning || k.Off || len(k.People) == 0 {
			continue
		}
		for id, who := range state.People {
			able := !slices.ContainsFunc(state.Jobs[k.Job].Fixes[k.Fix].Hands, func(hand board.Skill) bool {
				return hand != board.SkillAny && !slices.Contains(who.Skills, hand)
			})
			if able && !slices.Contains(k.People, id) && who.Role != board.RoleSafety && who.From == state.People[k.People[0]].From {
				return k.Job, id
			}
		}
	}
	require.Fail(t, "no job at rest in the plan, with another who has the skills")
	return "", ""
}

// A fight of ours is on: wall, phone and captain count down to both calls that may
// follow it.
func TestBrowserWinAndLoseAreCountedDownSideBySide(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	wall := newDevice(t, "wall", 1920, 1080, false)
	phone := newDevice(t, "phone", 390, 844, true)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(wall, board.RoleViewer, "")
	s.joins(phone, board.RoleCrew, "Bramwell")
	s.joins(captain, board.RoleCaptain, "Ottoline")
	heavy := s.robot("Grobblequill")
	require.Equal(t, 200, captain.asks("fight.now", `{"arena":"Big Box","number":22}`).Status)
	for _, d := range []*device{wall, phone} {
		if d == phone {
			d.open(s.url + "/#/robot/" + string(heavy.ID))
		}
		d.sees("if lost")
		d.sees("if won")
		d.waits(`[...document.querySelectorAll(".branch-left pit-left")].filter((x) => /^\d+ min$/.test(x.textContent)).length >= 2`, "two countdowns")
		d.shot("branches-" + d.name)
	}
	captain.open(s.url + "/#/captain/plan")
	captain.sees("its fight is on")
	captain.shot("branches-captain")
}
