package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"mendline/board"
)

// person finds a person on the board by name.
func (s *served) person(name string) board.Person {
	for _, person := range s.desk.View().State.People {
		if person.Name == name {
			return person
		}
	}
	return board.Person{}
}

func TestBrowserAMinorMarksHandsNearAndReportsButNeitherTagsNorAnswers(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	tilly := newDevice(t, "tilly", 390, 844, true)
	require.True(t, s.person("Tilly").Minor)
	s.joins(tilly, board.RoleCrew, "Tilly")
	robot := s.robot("Nettlepip")

	tilly.open(s.url + "/#/robot/" + string(robot.ID))
	tilly.sees("my hands are near")
	require.False(t, gets[bool](tilly, `document.body.innerText.toLowerCase().includes("put my tag on")`))
	tilly.press("my hands are near")
	tilly.sees("my hands are away from")
	require.True(t, s.near(robot.ID, s.person("Tilly").ID))
	tilly.hold("my hands are away from", `![...document.querySelectorAll("button")].some((b) => b.innerText.includes("hands are away"))`)
	require.Eventually(t, func() bool { return !s.near(robot.ID, s.person("Tilly").ID) }, patience, 20*time.Millisecond)

	sheet, ok := s.desk.View().State.Sheet(s.robot("Tumsy Vole").ID, board.ListMakeSafe)
	require.True(t, ok)
	line := firstOpen(sheet)
	tilly.open(s.url + "/#/sheet/" + string(sheet.ID))
	tilly.sees(line.Ask)
	tilly.sees("answers no line")
	for _, words := range []string{line.Say, line.Not} {
		require.False(t, gets[bool](tilly, fmt.Sprintf(`[...document.querySelectorAll("button")].some((b) => b.innerText.includes(%q))`, words)), words)
	}
	tilly.shot("looks-on-phone")
	tilly.press("earlier answers")
	tilly.sees("BACK TO THE SHEET")
	require.False(t, gets[bool](tilly, `document.body.innerText.includes("answer again")`))

	tilly.open(s.url + "/#/damage/" + string(robot.ID))
	tilly.types("part", "Left fork")
	tilly.press("what does it need")
	tilly.press("it can wait")
	tilly.press("report it")
	tilly.sees("A photo of it?")
	require.Equal(t, "Left fork", s.damage("Left fork").Part)
}

func (s *served) near(robot board.RobotID, who board.PersonID) bool {
	for _, n := range s.desk.View().State.Hands {
		if n.Robot == robot && n.Person == who {
			return true
		}
	}
	return false
}

func (s *served) damage(part string) board.Damage {
	for _, d := range s.desk.View().State.Damages {
		if d.Part == part {
			return d
		}
	}
	return board.Damage{}
}

func firstOpen(sheet board.Sheet) board.Line {
	for _, l := range sheet.Lines {
		if _, ok := sheet.Answered(l.ID); !ok {
			return l
		}
	}
	return board.Line{}
}

func TestBrowserAPhotoIsShownWithoutWhereItWasTaken(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(phone, board.RoleCrew, "Pia")
	file := filepath.Join(t.TempDir(), "photo.jpg")
	require.NoError(t, os.WriteFile(file, photoWithPlace(t), 0o600))

	phone.open(s.url + "/#/damage/" + string(s.robot("Nettlepip").ID))
	phone.types("part", "Rear fork")
	phone.press("what does it need")
	phone.press("mend or swap it before we fight")
	phone.press("report it")
	phone.sees("A photo of it?")
	phone.do(chromedp.SetUploadFiles(chromedp.ID("choose"), []string{file}))
	phone.sees("photo 1: on the board")
	phone.shot("photo-phone")
	photos := s.damage("Rear fork").Photos
	require.Len(t, photos, 1)

	phone.press("make a job of it")
	phone.press("Re-solder connector")
	phone.sees("added: Re-solder connector")
	phone.shot("undo-phone")
	job := s.jobFor(s.damage("Rear fork").ID)
	phone.open(s.url + "/#/me/job/" + string(job.ID))
	phone.waits(fmt.Sprintf(`[...document.images].some((i) => i.src.includes(%q) && i.complete && i.naturalWidth > 0)`, string(photos[0])), "the photo")
	for _, path := range []string{"/photos/" + string(photos[0]), "/photos/" + string(photos[0]) + "/thumb"} {
		served := gets[string](phone, fmt.Sprintf(`fetch(%q).then((r) => r.arrayBuffer()).then((b) => [...new Uint8Array(b)].map((n) => String.fromCharCode(n)).join(""))`, path))
		require.Contains(t, served, "\u00ff\u00d8", "it is a JPEG")
		require.NotContains(t, served, "Exif")
		require.NotContains(t, served, placeMark)
	}
}

func (s *served) jobFor(damage board.DamageID) board.Job {
	for _, j := range s.desk.View().State.Jobs {
		if slices.Contains(j.Damages, damage) {
			return j
		}
	}
	return board.Job{}
}

// placeMark stands in the photo's metadata where a camera writes its own name.
const placeMark = "Constructed Camera"

// photoWithPlace is a JPEG with an APP1 segment as cameras write it: a TIFF header,
// the maker's name and a GPS directory with a latitude (Exif 2.32, JEITA CP-3451,
// §4.5.2, 4.6; from memory).
func photoWithPlace(t testing.TB) []byte {
	t.Helper()
	picture := image.NewRGBA(image.Rect(0, 0, 320, 240))
	for i := range picture.Pix {
		picture.Pix[i] = byte(i)
	}
	picture.Set(1, 1, color.White)
	var plain bytes.Buffer
	require.NoError(t, jpeg.Encode(&plain, picture, nil))

	entry := func(b []byte, tag, kind uint16, count, value uint32) []byte {
		b = binary.LittleEndian.AppendUint16(b, tag)
		b = binary.LittleEndian.AppendUint16(b, kind)
		b = binary.LittleEndian.AppendUint32(b, count)
		return binary.LittleEndian.AppendUint32(b, value)
	}
	tiff := []byte("II*\x00\x08\x00\x00\x00\x02\x00")
	gpsAt := uint32(8 + 2 + 2*12 + 4 + 20)
	tiff = entry(tiff, 0x010F, 2, uint32(len(placeMark)+1), 8+2+2*12+4)
	tiff = entry(tiff, 0x8825, 4, 1, gpsAt)
	tiff = append(tiff, 0, 0, 0, 0)
	tiff = append(tiff, (placeMark + strings.Repeat("\x00", 20-len(placeMark)))...)
	tiff = append(tiff, 1, 0)
	tiff = entry(tiff, 1, 2, 2, 'N')
	tiff = append(tiff, 0, 0, 0, 0)
	body := append([]byte("Exif\x00\x00"), tiff...)
	app1 := binary.BigEndian.AppendUint16([]byte{0xFF, 0xE1}, uint16(len(body)+2))
	return append(append(append([]byte{0xFF, 0xD8}, app1...), body...), plain.Bytes()[2:]...)
}

func TestBrowserAScriptInANameShowsAsText(t *testing.T) {
	inBrowser(t)
	const evil = `<img src=x onerror="document.title='owned'">`
	s := serveDemo(t)
	guest := newDevice(t, "guest", 390, 844, true)
	wall := newDevice(t, "wall", 1920, 1080, false)
	captain := newDevice(t, "captain", 1280, 800, false)
	s.joins(wall, board.RoleViewer, "")
	s.joins(captain, board.RoleCaptain, "Ottoline")

	guest.open(s.url + "/j#" + testCodes[board.RoleCrew])
	guest.press("my name is not here")
	guest.types("name", evil)
	guest.types("pin", "135790")
	guest.press("join as")
	guest.seesNot("join the board")
	guest.open(s.url + "/#/me/notes")
	guest.types("note", evil+" is glazed")
	guest.press("write it down")
	guest.sees(evil + " is glazed")
	guest.open(s.url + "/#/robot/" + string(s.robot("Nettlepip").ID))
	guest.press("my hands are near")
	guest.sees("hands near: " + evil)
	wall.sees(evil)
	captain.open(s.url + "/#/captain/person")
	captain.sees(evil)
	for _, d := range []*device{guest, wall, captain} {
		require.Zero(t, gets[int](d, `document.querySelectorAll("img").length`), d.name)
		require.Equal(t, "Mendline", gets[string](d, `document.title`), d.name)
	}
}

func TestBrowserHeldEnterAnswersOneLine(t *testing.T) {
	inBrowser(t)
	s := serveTeam(t)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(phone, board.RoleCrew, "Pia")
	robot := s.robot("Nettlepip").ID
	sheet, ok := s.desk.View().State.Sheet(robot, board.ListMakeSafe)
	require.True(t, ok)
	first := firstOpen(sheet)
	phone.open(s.url + "/#/sheet/" + string(sheet.ID))
	phone.sees(first.Ask)

	// The key goes down on the main button and stays.
	phone.enterDown(first.Say)
	phone.waits(fmt.Sprintf(`!document.querySelector("h1").innerText.includes(%q)`, first.Ask), "the next line")
	s.agree(phone)
	answered, _ := s.desk.View().State.Sheet(robot, board.ListMakeSafe)
	require.Len(t, answered.Answers, len(sheet.Answers)+1)
	second := firstOpen(answered)
	phone.sees(second.Ask)
	phone.focuses(second.Say)
	for range 20 {
		phone.enter(input.DispatchKeyEventTypeKeyDown, true)
	}
	phone.enter(input.DispatchKeyEventTypeKeyUp, false)
	answered, _ = s.desk.View().State.Sheet(robot, board.ListMakeSafe)
	require.Len(t, answered.Answers, len(sheet.Answers)+1)

	// Pressed again, the key answers the next.
	phone.enterDown(second.Say)
	phone.enter(input.DispatchKeyEventTypeKeyUp, false)
	phone.waits(fmt.Sprintf(`!document.querySelector("h1").innerText.includes(%q)`, second.Ask), "the line after")
	s.agree(phone)
	answered, _ = s.desk.View().State.Sheet(robot, board.ListMakeSafe)
	require.Len(t, answered.Answers, len(sheet.Answers)+2)
}

// enterDown presses Enter on the control with these words and keeps it down. Where the
// page was laid out again meanwhile and nothing felt it, it is pressed again.
func (d *device) enterDown(words string) {
	d.t.Helper()
	for range 5 {
		d.feels("click", words)
		d.focuses(words)
		d.enter(input.DispatchKeyEventTypeKeyDown, false)
		if d.within(`felt.click.hit`, 2*time.Second) {
			return
		}
		d.enter(input.DispatchKeyEventTypeKeyUp, false)
		d.again++
	}
	d.missed("pressed Enter on", words)
}

func (d *device) focuses(words string) {
	d.t.Helper()
	d.find(words)
	d.runs(fmt.Sprintf(`%s(%q).focus()`, control, words))
}

// enter sends the Enter key down or up; a held key repeats. No button rests by then.
func (d *device) enter(kind input.DispatchKeyEventType, repeats bool) {
	d.t.Helper()
	_, err := chromedp.Call(d.ctx, input.DispatchKeyEvent, input.DispatchKeyEventParams{
		Type: kind, Timestamp: rested(), Key: "Enter", Code: "Enter", Text: "\r", WindowsVirtualKeyCode: 13, AutoRepeat: &repeats,
	})
	require.NoError(d.t, err)
}

// A job that was started without a network can be ended without one: the button
// follows what this phone knows, and the board hears both in order.
func TestBrowserTheBigButtonFollowsTheJobItself(t *testing.T) {
	inBrowser(t)
	s := serveDemo(t)
	phone := newDevice(t, "phone", 390, 844, true)
	s.joins(phone, board.RoleCrew, "Tilly")
	job := s.runningJobOf(s.person("Tilly").ID)
	require.NotEmpty(t, job.ID)
	phone.open(s.url + "/#/me/hold/" + string(job.ID))
	phone.press("waits for a person")
	phone.sees(fmt.Sprintf("held %d", job.Number))
	phone.sees("my next move")
	phone.open(s.url + "/#/me/job/" + string(job.ID))
	phone.sees(job.Fix().Name + ": likely") // the job's own page has come, which says resume too
	phone.offline(true)
	phone.press("RESUME")
	phone.sees("1 thing not sent yet")
	phone.press("DONE")
	phone.sees("2 things not sent yet")
	phone.shot("waiting-phone")
	require.Equal(t, board.JobHeld, s.desk.View().State.Jobs[job.ID].State)
	phone.offline(false)
	phone.sees("reopen")
	require.Contains(t, []board.JobState{board.JobFinished, board.JobClosed}, s.desk.View().State.Jobs[job.ID].State)
}

func (s *served) runningJobOf(who board.PersonID) board.Job {
	for _, j := range s.desk.View().State.Jobs {
		for _, p := range j.Assigned {
			if p == who && j.State == board.JobRunning {
				return j
			}
		}
	}
	return board.Job{}
}
