package main

// Every word of help stands here. Rules: plain sentences, one example each, no
// flag that is not explained.

const usage = `mendline is a pit board for a combat-robot team on an event day: the repair queue,
the packs, the running order and the safety sheets, live on every phone in the pit.

  mendline [serve] [-addr :8080] [-data DIR] [-team DIR]   serve the board
  mendline demo [-addr :8080] [-dump DIR]                  an invented team, mid-event
  mendline load DIR                                        a team folder into an empty board
  mendline dump DIR                                        the team out into a folder
  mendline backup FILE                                     copy the board while it runs
  mendline restore FILE                                    put a backup in its place
  mendline keep URL CODE                                   another laptop keeps copies of a board
  mendline salvage FILE [-o NEW]                           bring out of a damaged board what holds
  mendline debrief [-html] [-csv] [FILE…]                  what each hit cost, and what to change
  mendline check [FILE]                                    examine the board's file
  mendline healthy [-addr :8080]                           exit 0 if a board answers there
  mendline charge -cells N -ah AH -mohm MOHM -amps A …     how long a charge takes
  mendline notices                                         who made what is in it
  mendline version

mendline COMMAND -h explains each. For example, on the laptop in the pit:

  mendline serve -data ./event -team ./ourteam

The board senses nothing: it shows who declared what, and when. It replaces no lock,
no link, no cover and no safety officer. The event's rules and officials come first.
`

const usageServe = `mendline serve [-addr :8080] [-data DIR] [-team DIR] [-backup DIR] [-host NAME]
               [-cert FILE -key FILE]

Serves the board until it is interrupted, and prints every address a phone can reach
it at, the join codes and a QR code with the crew's.

  -addr    where to listen; :8080 is every address of this machine
  -data    the folder that holds the board; ./mendline-data if not given
  -team    a team folder to load, if the board is still empty
  -backup  a folder on a stick or a share that gets an examined copy of the board every
           minute in which something changed, photos too: all of the last hour stay, one
           of each hour, one of each day. The folder has to be there; may be given again
  -host    another name this machine is reached by; may be given again
  -no-forecast
           no calls, plan and chances: only to measure what they cost
  -log     json or text: how what happens is written to standard error; json if not given
  -cert    a certificate and its key, for https: only where every phone trusts it
  -key
  -captain-code, -crew-code, -safety-code, -viewer-code
           join codes to use instead of those the board made: 8 letters and digits
           or more, dashes and spaces not counted. The environment may hold them: MENDLINE_CAPTAIN_CODE and so on.

For example:

  mendline serve -data ./event -team ./ourteam -backup /media/stick/mendline

It keeps its memory to 320 MiB where it can, beside the board's file that the system
holds for it. The environment may say another limit: GOMEMLIMIT=1GiB.

On plain http anyone on the same Wi-Fi can read along: use a router of your own with
a password.
`

const usageDemo = `mendline demo [-addr :8080] [-dump DIR]

Serves an invented team in the middle of its event day, with the clock set to now, from
a temporary folder that goes when it ends. Names and figures are made up.

  -addr   where to listen
  -log    json or text: how what happens is written to standard error
  -dump   write the team's folder of CSV files to DIR and stop, to see what one looks like;
          its README.txt says what each column means

For example:

  mendline demo -dump ./ourteam
`

const usageLoad = `mendline load [-data DIR] TEAMDIR

Reads a team folder of CSV files into a board without robots, packs, jobs and fights, all
of it or nothing. Every bad cell is named by file, line and column. If a board runs on the
data folder, it is loaded there. The captain's page takes such a folder too.

For example:

  mendline load -data ./event ./ourteam
`

const usageDump = `mendline dump [-data DIR] [-blank] TEAMDIR

Writes the board's team as a folder of CSV files that load reads back, with a README.txt
that says what each column means. TEAMDIR is made; files in it are replaced only with
-over.

  -blank  needs no board: write the first lines of the files alone, to be filled in

For example:

  mendline dump -data ./event ./ourteam-after
`

const usageBackup = `mendline backup [-data DIR] FILE

Copies the board to FILE, also while it runs, and examines the copy. Keep it on another
device. Photos are copied beside it, to FILE-photos.

For example:

  mendline backup -data ./event /media/stick/saturday.db
`

const usageRestore = `mendline restore [-data DIR] FILE

Puts a backup in the place of the board, which must not be running. The board that was
there is kept beside it, under a name with the date and time: restoring again loses
nothing. Afterwards every robot is unknown and every pack unread; tags, hands near,
stops and what was set aside on the replaced board stay. Every device joins again, with
the codes as they were last and the PINs of the backup. FILE may also be a copy that
serve -backup or keep left, by its own name.

For example:

  mendline restore -data ./event /media/stick/saturday.db
`

const usageKeep = `mendline keep [-data DIR] URL [CODE]

Run this on a second laptop. It fetches each new copy of the board that is served at URL,
once a minute at most, examines it, and puts it where this laptop can go on from it with
one command: mendline serve -data DIR. It stops by itself then, and never takes the place
of a board that people have gone on with. Older copies stay in DIR/copies.

The captain's screen makes the code (set up, codes), shows how old the copy here is, and
can take the code back. PINs can be worked out from a copy: what is sent is sealed with
the code, which is not sent. The environment may hold it as MENDLINE_COPIES_CODE.

For example:

  mendline keep -data ./spare http://192.168.1.20:8080 4W8ZK-1QHNM-7T2VX-C05RJ-PE93B
`

const usageSalvage = `mendline salvage FILE [-o NEW]

Brings out of a damaged board's file what holds, and writes it as a board to NEW, or to
FILE.salvaged: what is broken is rebuilt from the journal. Lists what could not be. FILE
stays as it is; put NEW in its place with restore.

For example:

  mendline salvage ./event/board.db -o /media/stick/salvaged.db
`

const usageDebrief = `mendline debrief [-data DIR] [-html] [-csv] [-moves 1] [-fights 5] [-kg 40] [-money 0] [-guess NAME=0.5] [FILE…]

Writes the account of the board, also while it runs, or of each board's FILE: the bill
of each fight and hit, what eats the day, another construction against the one that was
built, what to bring, what to get.

  -html    as a page to print
  -csv     as a row for each hit
  -moves   how much of the damage would reach another construction: 0 to 2, 1 is all
  -fights  how many fights each robot has to come, for what to bring
  -kg      how many kilograms may be brought
  -money   how much may be spent on it, 0 for no limit
  -guess   how many of a spare you think a fight takes; may be given again

For example:

  mendline debrief -html saturday.db sunday.db > account.html
`

const usageCheck = `mendline check [-data DIR] [FILE]

Examines the board's file, or FILE: its pages, its journal without gaps, and every noun
against the journal. Exit 1 if anything is wrong.

For example:

  mendline check /media/stick/saturday.db
`

const usageHealthy = `mendline healthy [-addr :8080]

Asks a board on this machine whether it is well; exit 0 if so. For container health checks.

For example:

  mendline healthy -addr :8080
`

const usageNotices = `mendline notices

Prints the notices of every library and data set in the program, with their terms.

For example:

  mendline notices | less
`

const usageCharge = `mendline charge -cells N -ah AH -mohm MOHM -amps A -from Z (-chem NAME | -ocv FILE) [more]

Computes how long a charge takes: set current, limited power, then falling current at
the limit voltage. Prints minutes, energy and a small table.

  -cells     cells in series, counted by hand at the balance lead
  -ah        capacity of the pack as it is now
  -mohm      resistance of one cell, effective over minutes: about twice what a 10 s
             pulse shows, and more than a charger's own reading
  -amps      charging current: the least of label, channel and what is set
  -watts     the channel's power; 0 or none where only current limits
  -volts     limit voltage of one cell; without it the chemistry's, but never for
             lipo-hv and -ocv, where the label must say it
  -end-amps  current that ends the charge; without it a twentieth of the capacity
  -from, -to states of charge, as 0.3 or 30%; -to 1, the default, is full, and any
             other ends there
  -chem      lipo, lipo-hv, li-ion or life: a published curve, nobody's own pack
  -ocv       a table of your own instead: CSV with columns soc (0 to 1, or percent,
             up or down) and volts per cell at rest; commas, semicolons or tabs
  -column    the column of volts in that table, if it is not volts, voltage or ocv
  -json      {"ccSec","cpSec","cvSec","totalSec","socAtCV","wattHoursIn"}; socAtCV is
             null where the charge ends below the limit voltage
  -csv       the whole curve

For example, a four-cell pack at 2C:

  mendline charge -cells 4 -ah 1.3 -mohm 20 -amps 2.6 -from 30% -chem lipo
` + chargeCaution

const chargeCaution = `
A figure to plan with; it makes no pack charged: only a reading does. Never charge
unattended, nor a pack that is swollen, dropped, hot or not read. The maker's figures,
the event's rules and the safety officer come first.
`
