package bot

import (
	"context"
	"time"

	"rungbook/training"
)

// Store runs a function in one transaction: all of its writes hold, or none if
// it returns an error. View gives a reading transaction, in which a write is an
// error.
//
// The errors of the store that come through: a full disk (store.ErrFull), after
// which the same call works once there is room; a disk that did not confirm a
// write (store.ErrUnsure), after which the process must end; no key
// (store.ErrNoKey) from whatever hashes. A function that fails is to return what
// the verb returned: after a verb has failed, nothing of the transaction holds.
type Store interface {
	Update(ctx context.Context, do func(Tx) error) error
	View(ctx context.Context, do func(Tx) error) error
	// Scrub makes the files forget what an Update has erased.
	Scrub(ctx context.Context) error
}

// Tx is all that the bot asks of the store. A look-up of something that is not
// there returns ok false and no error. Lists are in the order named, or in
// roster order; a method that is given a team never reads or writes another's.
type Tx interface {
	People
	Logs
	Pauses
	Decisions
}

// People keeps teams and who belongs to them.
type People interface {
	Team(id training.TeamID) (team training.Team, ok bool, err error)
	Teams() ([]training.TeamID, error)
	TeamsOf(id training.PersonID) ([]training.TeamID, error) // on whose roster the person is
	PutTeam(team training.Team) error                        // adds or replaces
	// Programme returns the text of the programme the team has taken; ok false
	// means the default one.
	Programme(team training.TeamID) (source []byte, ok bool, err error)
	PutProgramme(team training.TeamID, source []byte, at time.Time) error
	Roster(team training.TeamID) ([]training.Member, error) // everyone known, in order of enrolment
	Member(team training.TeamID, id training.PersonID) (member training.Member, ok bool, err error)
	PutMember(team training.TeamID, member training.Member) error // adds at the end of the roster, or changes in place
	Record(team training.TeamID, id training.PersonID) (training.Record, error)
	// CoachByRole reports whether the platform's role makes the person a coach of
	// the team; of the other coaches /setup has named each.
	CoachByRole(team training.TeamID, id training.PersonID) (bool, error)
	PutCoachByRole(team training.TeamID, id training.PersonID, is bool) error

	// Kept gives every row about the person in the team, by table, each as what
	// stands in its columns: for an export.
	Kept(team training.TeamID, id training.PersonID) (map[string][]map[string]any, error)

	PutAways(team training.TeamID, id training.PersonID, aways []training.Away) error                      // replaces all of the member's
	PutMark(team training.TeamID, id training.PersonID, mark training.Mark, coach training.PersonID) error // twice is once
	DropMarks(team training.TeamID, id training.PersonID, gate training.RungID) (dropped int, err error)

	// Erase removes every trace of the person in every team and blocks them by
	// a keyed hash; Blocked asks for the hash, Unblock lifts it. ShutOut reports
	// whether what the person wrote at the instant must not be read in: they are
	// blocked, or were so until later. Rejoined is when the block was lifted.
	Erase(id training.PersonID) error
	Blocked(id training.PersonID) (bool, error)
	ShutOut(id training.PersonID, written time.Time) (bool, error)
	Unblock(id training.PersonID, since time.Time) error
	Rejoined(id training.PersonID) (since time.Time, ok bool, err error)
}

// Logs keeps what messages gave, by message ID.
type Logs interface {
	Log(id training.MessageID) (log training.Log, ok bool, err error)
	PutLog(log training.Log) error // adds or replaces, with its days and sets
	// NoteEdit remembers that an edit of the log's message was taken in; nothing
	// where the message gave no log.
	NoteEdit(id training.MessageID, at time.Time) error
	// LatestLog is the author's own latest message that still gives sets for
	// themselves.
	LatestLog(team training.TeamID, author training.PersonID) (log training.Log, ok bool, err error)
	// DayLogs lists all logs with something of the day, whole and whatever their
	// state, oldest first.
	DayLogs(team training.TeamID, member training.PersonID, day training.Day) ([]training.Log, error)
	// MemberLogs lists live ones, days included, by day then instant: one for
	// each day of a message.
	MemberLogs(team training.TeamID, member training.PersonID, from, until training.Day) ([]training.Log, error)
	// AskedLogs lists those written since that wait for their author's word,
	// oldest first; what has waited since before ForgetAsked's instant gives
	// nothing any more.
	AskedLogs(team training.TeamID, author training.PersonID, since time.Time) ([]training.Log, error)
	ForgetAsked(before time.Time) error

	// PutCorrection remembers that messages of the member written before at
	// no longer give that day's sets; Corrected returns the latest such instant.
	PutCorrection(team training.TeamID, member training.PersonID, day training.Day, at time.Time) error
	Corrected(team training.TeamID, member training.PersonID, day training.Day) (at time.Time, ok bool, err error)
	// Audit keeps that somebody changed somebody else's record: what is a word
	// of the code's ("log", "correct"), never a message's.
	Audit(team training.TeamID, by, member training.PersonID, day training.Day, what string, at time.Time) error
}

// Pauses keeps when somebody did no ring work, never why.
type Pauses interface {
	Running(team training.TeamID, id training.PersonID) (pause training.RunningPause, ok bool, err error)
	// PutRunning starts it, or changes the one that runs; EndRunning keeps it as
	// history, resumed on the day.
	PutRunning(team training.TeamID, id training.PersonID, pause training.RunningPause) error
	EndRunning(team training.TeamID, id training.PersonID, day training.Day) error
	VoidRunning(team training.TeamID, id training.PersonID) error                  // it never was
	VoidLatest(team training.TeamID, id training.PersonID) (found bool, err error) // the latest ended one never was

	// PutTakeBack keeps that a cause, a message or a command, can be taken back until
	// the whole minute at or behind back.Expires. Which it was can only be asked:
	// TakeBackOf returns the number of a cause's. The same cause again replaces it.
	PutTakeBack(team training.TeamID, id training.PersonID, cause training.MessageID, back training.TakeBack) error
	TakeBacks(team training.TeamID, id training.PersonID) ([]training.TakeBack, error) // oldest first
	TakeBackOf(team training.TeamID, id training.PersonID, cause training.MessageID) (number int64, ok bool, err error)
	OpenTakeBack(team training.TeamID, id training.PersonID, number int64) error // the pause begins with it now
	DropTakeBack(team training.TeamID, id training.PersonID, number int64) error
	DropTakeBacks(team training.TeamID, id training.PersonID) error // all of the member's
	ExpireTakeBacks(now time.Time) error                            // those whose expiry is at or before now
	NextExpiry() (at time.Time, ok bool, err error)                 // the earliest expiry
	// AskJoint notes that the person is asked whether a joint hurts, and may be
	// asked again from the instant on, or up to an hour later; first is false,
	// and nothing is noted, while they may not be asked yet, in whatever team.
	AskJoint(team training.TeamID, id training.PersonID, now, again time.Time) (first bool, err error)
	ForgetJoint(id training.PersonID) error // that they were asked
	ForgetJoints(now time.Time) error       // who may be asked again
	// ActOnce remembers that the message or command has done what a word of the
	// code's says ("pause", "skin"), and nothing else of it but the day.
	ActOnce(id training.MessageID, what string, at time.Time) (first bool, err error)
	ForgetActed(before time.Time) error // what acted on days that began before
}

// Decisions keeps what was decided unasked, and the posts that say it.
type Decisions interface {
	// Decide writes a decision unless (team, kind, subject, cause) stands
	// already; outcome is a word of the code's: "post", "none", "missed". The
	// instant is kept to the day.
	Decide(team training.TeamID, kind string, subject training.PersonID, cause, outcome string, at time.Time) (first bool, err error)
	// Decided returns the outcomes of one kind and subject by cause, for
	// causes from the given one on (dates compare as text).
	Decided(team training.TeamID, kind string, subject training.PersonID, from string) (map[string]string, error)
	// ForgetDecisions drops those decided on days that began before the instant
	// whose cause is a date or a message; one caused by a word of the code's is made once ever.
	ForgetDecisions(before time.Time) error
	// FormPost stores a post that is to be sent and returns its number. The
	// payload is dropped once it has been sent.
	FormPost(team training.TeamID, payload []byte, at time.Time) (id int64, err error)
	// MarkUnanswered remembers that what a message is answered is still to be sent;
	// whoever sends it notes when it is out. Twice is once.
	MarkUnanswered(team training.TeamID, id training.MessageID, at time.Time) error
	ForgetUnanswered(before time.Time) error // on days that began before
	// MarkRefused remembers that a message, or its edit of that instant, was refused
	// because nothing could be stored; edited is zero for the message itself.
	MarkRefused(id training.MessageID, edited, at time.Time) error
	Refused(id training.MessageID, edited time.Time) (bool, error)
	ForgetRefused(before time.Time) error // on days that began before
	// PointAt ties a decision to its post.
	PointAt(team training.TeamID, kind string, subject training.PersonID, cause string, post int64) error
}
