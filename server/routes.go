package server

import (
	"net/http"

	"mendline/board"
	"mendline/server/paper"
)

// routes lists every route with who may take it.
func (s *Server) routes() http.Handler {
	const captain, safety = board.RoleCaptain, board.RoleSafety
	m := http.NewServeMux()

	// Anyone: the pages hold no data.
	m.HandleFunc("GET /", s.page)
	m.HandleFunc("GET /healthz", s.healthz)
	m.HandleFunc("POST /api/join", s.join)
	m.HandleFunc("GET /live", s.live) // says for itself who may not

	// A session.
	m.HandleFunc("GET /api/me", s.member(s.me))
	m.HandleFunc("POST /api/leave", s.member(s.leave))
	m.HandleFunc("POST /api/do", s.member(s.do))
	m.HandleFunc("GET /api/board", s.member(s.board))
	m.HandleFunc("GET /api/forecast", s.member(s.forecast))
	m.HandleFunc("GET /api/commands", s.member(s.listCommands))
	m.HandleFunc("GET /api/lists", s.member(s.listLists))
	m.HandleFunc("POST /api/photos", s.member(s.addPhoto))
	m.HandleFunc("GET /photos/{id}", s.member(s.photo))
	m.HandleFunc("GET /photos/{id}/thumb", s.member(s.thumb))

	// On paper.
	m.HandleFunc("GET /sheet/{$}", s.printed((*paper.Printer).Index))
	m.HandleFunc("GET /sheet/all", s.printed((*paper.Printer).All))
	m.HandleFunc("GET /sheet/robot/{id}", s.member(s.printStrip))
	m.HandleFunc("GET /sheet/tags", s.printed((*paper.Printer).Tags))
	m.HandleFunc("GET /sheet/hands", s.printed((*paper.Printer).Hands))
	m.HandleFunc("GET /sheet/order", s.printed((*paper.Printer).Order))
	m.HandleFunc("GET /sheet/packs", s.printed((*paper.Printer).Packs))
	m.HandleFunc("GET /rules", s.printed((*paper.Printer).Rules))
	m.HandleFunc("GET /sheet/print.css", s.member(s.printStyle))

	// A role.
	m.HandleFunc("GET /api/journal", s.only(s.journal, captain, safety))
	m.HandleFunc("GET /api/review", s.only(s.review, captain, safety))
	m.HandleFunc("GET /sheet/review", s.only(s.printReview, captain, safety))
	m.HandleFunc("GET /api/debrief", s.only(s.debrief, captain, safety))
	m.HandleFunc("GET /api/sessions", s.only(s.listSessions, captain))
	m.HandleFunc("POST /api/sessions/end", s.only(s.endSessions, captain))
	m.HandleFunc("GET /api/door", s.only(s.showDoor, captain))
	m.HandleFunc("POST /api/door", s.only(s.turnDoor, captain))
	m.HandleFunc("GET /api/clock", s.only(s.clock, captain))
	m.HandleFunc("GET /api/codes", s.only(s.listCodes, captain))
	m.HandleFunc("POST /api/codes/change", s.only(s.changeCode, captain))
	m.HandleFunc("POST /api/pins/first", s.only(s.firstPIN, captain))
	m.HandleFunc("POST /api/pins/forget", s.only(s.forgetPIN, captain))
	m.HandleFunc("GET /api/health", s.only(s.health, captain))
	m.HandleFunc("GET /api/file", s.only(s.file, captain))
	m.HandleFunc("GET /api/copy", s.only(s.copy, captain))
	m.HandleFunc("GET /api/team", s.only(s.giveTeam, captain))
	m.HandleFunc("GET /api/team/blank", s.only(s.giveBlank, captain))
	m.HandleFunc("POST /api/team", s.only(s.loadTeam, captain))
	m.HandleFunc("POST /api/again", s.only(s.again, captain))
	if s.o.Copies != nil {
		m.HandleFunc("GET /api/copies/code", s.only(s.copiesCode, captain))
		m.HandleFunc("POST /api/copies/code", s.only(s.changeCopiesCode, captain))

		// Another laptop that keeps copies.
		m.HandleFunc("GET /copies/board", s.laptop(s.copyForLaptop))
		m.HandleFunc("GET /copies/photos", s.laptop(s.photosForLaptop))
		m.HandleFunc("GET /copies/photos/{name}", s.laptop(s.photoForLaptop))
	}

	// The administrator.
	m.HandleFunc("POST /admin/load", s.admin(s.adminLoad))
	m.HandleFunc("GET /admin/backup", s.admin(s.adminBackup))
	m.HandleFunc("POST /admin/check", s.admin(s.adminCheck))
	m.HandleFunc("GET /metrics", s.metrics)
	return m
}
