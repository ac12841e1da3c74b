package server

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"mendline/board"
	"mendline/server/photo"
)

func TestAPersonSendsSoManyPhotosADayAndNobodyElseIsHeldUp(t *testing.T) {
	p := newPit(t)
	ben, dee := p.crew(), p.safety()
	small := picture(t, 20, 10, asJPEG)
	for range photosPerDay - 1 {
		require.True(t, p.s.photosOf.take(p.ben, p.clock.Now()))
	}
	p.clock.pass(time.Hour)
	ben.send(small[:20], "image/jpeg").refused(http.StatusUnprocessableEntity, board.Code(photo.CannotRead)) // costs as much
	again := p.crew()
	for _, d := range []device{ben, again} {
		bad := d.send(small, "image/jpeg").refused(http.StatusConflict, board.CodeState)
		require.Contains(t, bad.Sentence, "Ben has sent 200 photos within a day")
	}
	dee.send(small, "image/jpeg").ok()
	p.clock.pass(23 * time.Hour)
	p.crew().send(small, "image/jpeg").ok()
}

func TestAPhotoThatDidNotArriveIsNotCounted(t *testing.T) {
	var q quota
	at := nineOClock
	for range photosPerDay {
		require.True(t, q.take("ben", at))
	}
	require.False(t, q.take("ben", at))
	q.giveBack("ben", at)
	require.True(t, q.take("ben", at))
	require.False(t, q.take("ben", at))
}

// photoKept is a photo that a device sent at some moment.
func (p *pit) photoKept(d device, at time.Time) board.PhotoID {
	p.t.Helper()
	id := decode[photoAnswer](p.t, d.send(picture(p.t, 20, 10, asJPEG), "image/jpeg").ok().body).Photo
	p.keptAt(id, at)
	return id
}

func (p *pit) keptAt(id board.PhotoID, at time.Time) {
	p.t.Helper()
	require.NoError(p.t, os.Chtimes(filepath.Join(p.album, string(id)+".jpg"), at, at))
}

// damage is a new one, with photos.
func (p *pit) damage(d device, photos ...board.PhotoID) board.DamageID {
	p.t.Helper()
	ask := p.command(board.DamageReport{DamageFields: board.DamageFields{Robot: p.moth, Part: "side plate", What: "a dent", Grade: board.G1}})
	d.post("/api/do", ask).ok()
	id, _ := board.ParseCommandID(ask.ID)
	damage := board.DamageID(board.NewID(id, board.KindDamage, ""))
	for _, photo := range photos {
		d.do(board.DamagePhoto{Damage: damage, Photo: photo}).ok()
	}
	return damage
}

func TestPhotosThatNothingNamesAreCollectedAfterADay(t *testing.T) {
	p := newPit(t)
	ben := p.crew()
	start := p.clock.Now()
	named, second, undone, lost := p.photoKept(ben, start), p.photoKept(ben, start), p.photoKept(ben, start), p.photoKept(ben, start)
	damage := p.damage(ben, named, second)
	ask := p.command(board.DamagePhoto{Damage: damage, Photo: undone})
	ben.post("/api/do", ask).ok()
	id, _ := board.ParseCommandID(ask.ID)
	ben.do(board.Undo{Command: id}).ok()

	p.clock.pass(unnamedFor - time.Hour)
	ben = p.crew()
	fresh := p.photoKept(ben, p.clock.Now())
	require.NoError(t, p.s.collect(t.Context()))
	ben.get("/photos/" + string(lost)).ok()
	p.clock.pass(time.Hour)
	require.NoError(t, p.s.collect(t.Context()))
	require.Equal(t, http.StatusNotFound, ben.get("/photos/"+string(lost)).status)
	require.Equal(t, http.StatusNotFound, ben.get("/photos/"+string(lost)+"/thumb").status)
	for what, id := range map[string]board.PhotoID{"named": named, "the second": second, "taken back": undone, "fresh": fresh} {
		require.Equal(t, http.StatusOK, ben.get("/photos/"+string(id)).status, what)
		require.Equal(t, http.StatusOK, ben.get("/photos/"+string(id)+"/thumb").status, what)
	}

	late := p.photoKept(ben, start)
	p.damage(ben, late)
	require.NoError(t, p.s.collect(t.Context()))
	ben.get("/photos/" + string(late)).ok()
}

func TestPhotosFromBeforeARestoreAreLeftToTheBoardThatWasReplaced(t *testing.T) {
	p := newPit(t)
	before := p.photoKept(p.crew(), p.clock.Now())
	p.clock.pass(time.Minute)
	p.itself(board.BoardRestore{Why: "the board was restored from a backup"})
	p.clock.pass(time.Minute)
	after := p.photoKept(p.crew(), p.clock.Now())
	p.clock.pass(2 * unnamedFor)
	require.NoError(t, p.s.collect(t.Context()))
	ben := p.crew()
	ben.get("/photos/" + string(before)).ok()
	require.Equal(t, http.StatusNotFound, ben.get("/photos/"+string(after)).status)
}

func TestAJournalThatCannotBeReadCostsNoPhoto(t *testing.T) {
	p := newPit(t)
	lost := p.photoKept(p.crew(), p.clock.Now())
	p.clock.pass(unnamedFor + time.Hour)
	p.s.album.epoch, p.s.album.take = p.d.View().Epoch, func([]byte) error { return fmt.Errorf("a damaged line") }
	require.ErrorContains(t, p.s.collect(t.Context()), "a damaged line")
	p.crew().get("/photos/" + string(lost)).ok()
	require.NoError(t, p.s.collect(t.Context()))
	require.Equal(t, http.StatusNotFound, p.crew().get("/photos/"+string(lost)).status)
}
