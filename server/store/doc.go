// Package store keeps the board on disk: nouns, journal, command ids, sessions
// and secrets, in one bbolt file that only its owner can read.
//
// # Basics
//
// [Open] creates the file or opens it, and [Store.Load] hands over all it
// holds; from then on the desk works in memory. [Store.Commit] writes a group
// of entries, one a command and one a revision each, in one transaction with
// two flushes; when it returns nil they are on disk. [Store.Done] says what was
// answered to a command id before. [Store.Journal] reads pages of the journal,
// [Store.Backup] copies the running file, [Restore] puts a copy in its place
// and [Check] examines a file that no board holds.
//
// The store keeps the bytes it is given. Only Check, [Salvage] and the opening of an older
// format look inside, at the members "v" of a noun and "rev", "put" and "del" of a journal line.
//
// Each value outside meta begins with a sum over bucket, key and value, and meta holds the
// total of each bucket's sums: Open finds every flipped bit, and every pair that is gone or
// older than it was. bbolt itself has no sums over its data pages.
//
// Buckets:
//
//	meta    schema, rev, created, program, expired (the newest id forgotten), copy, line,
//	        sums, lost
//	ent     key text → noun (JSON with v, the revision of its last change)
//	jnl     revision, 8 bytes big-endian → journal line (JSON)
//	cmd     command id, 16 bytes → revision, body hash, actor, answer
//	sess    key of a session (hash of its token) → session
//	secret  name → PIN hash, join code
//
// Beside board.db stands board.db.lock. It is locked while a process holds the
// board, names that process, and says whether the last stop was clean. After an
// unclean one, or where the mark is missing, Open does not trust the file: it
// copies it to a new one, flushes it, examines it and renames it into place. A clean
// one names its revision, so that a board that starts further back is known for one.
//
// A damaged file is kept as board.db.damaged-DATE, and what was brought out of it takes
// its place, if each noun is known as it was and no secret is lost; else it is refused.
// [Store.Opening] says what was found and done.
//
// A file of an older format is kept as board.db.formatN; a copy of it, migrated
// and examined, takes its place. A newer one is refused.
//
// # Caveats
//
// A failed commit may still be visible through the handle that failed, and a
// later success proves nothing. So after any error of a write, [ErrLowDisk]
// excepted, the store is broken: every method that would touch the file returns
// [ErrBroken], and Done goes on answering from memory. To try again, Close it
// and Open the path again: that takes the copy, and what it holds may include
// the group that was not acknowledged.
//
// A reader pins the pages freed since it began. Backup and Check hold one for
// the time of a copy, Journal for one page of lines. A goroutine that holds a
// reader must not commit.
//
// Before each write, and after it before anyone hears of it, the path is asked whether
// it still names the open file. A folder that was moved, deleted or replaced makes it
// [ErrMoved]; Backup still copies what is open. Where the file system does not tell
// files apart, nothing is asked.
//
// Locks are advisory and unreliable on network and synchronised folders.
package store
