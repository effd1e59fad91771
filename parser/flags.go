package parser

// flags says what a word can be in a size or beside one. A word may be several
// things: second is a unit and an ordinal, may a month and a maybe.
type flags uint64

const (
	fOnes      flags = 1 << iota // 0-19, n
	fTens                        // 20-90, n
	fHundred                     //
	fHalf                        // half, quarter: n in thousandths
	fCouple                      // a couple, a dozen: n
	fOrdinal                     // first, 2nd: n; last is 99
	fSec                         // a second
	fMin                         // a minute
	fHour                        // an hour
	fRep                         // a repetition
	fKg                          //
	fLb                          //
	fSet                         // sets of one exercise
	fRound                       // rounds through what follows
	fTimes                       // x
	fTwice                       // once, twice: n
	fAnd                         //
	fThen                        //
	fFill                        // may stand between a size and a name, and says nothing
	fOf                          //
	fRest                        //
	fOn                          //
	fOff                         //
	fBetween                     //
	fWeekday                     // n as time.Weekday
	fMonth                       // n, 1-12
	fToday                       //
	fYesterday                   //
	fAgo                         //
	fLast                        // last, past
	fThis                        //
	fDays                        // a span of n days: day 1, week 7
	fDayPart                     // morning, night
	fEffort                      // rpe
	fRIR                         // reps in reserve
	fFeel                        // felt like, how hard: before an effort without its word
	fLeft                        //
	fRight                       //
	fEach                        //
	fBoth                        //
	fLimb                        // what each or left may stand before: side, arm
	fBand                        //
	fToes                        //
	fFloor                       // what toes stand on to help, or that they help
	fPartner                     //
	fHelped                      // assisted: the word before or after says by what
	fFail                        //
	fTry                         //
	fMade                        // came off
	fNone                        // none, zero came off
	fLoad                        // weighted, vest, plate
	fCounter                     // counterweight
	fBody                        // bodyweight
	fWith                        //
	fNote                        // label of a note: what follows is no size
	fHead                        // may head a log before a colon: session, evening
	fStyle                       // how a rung was done: strict, slow
	fRemark                      // a word of a remark, harmless beside a log
	fLevel                       // a word for an effort: hard; n is a number that would do
	fVow                         // best, pr
	fLead                        // may stand before a day: on, from, the
	fAt                          // at, @
	fBandKind                    // red, thick: of a band
	fActivity                    // warm-up, yoga: time that is no set
)

// mood says what a word does to the sentence it stands in.
type mood uint32

const (
	mPlan    mood = 1 << iota // it is yet to be done
	mModal                    // would, could, if: it was not done
	mOrder                    // somebody is told to do it, where it opens a clause
	mNot                      // it was not done
	mOften                    // done in general, not on a day
	mOther                    // somebody else's
	mYou                      // the one spoken to
	mPraise                   // congratulations
	mSay                      // said, wrote: what follows is quoted
	mMeta                     // about the bot or an entry
	mAsk                      // opens a question
	mMe                       // I, my
	mDid                      // a past form: what follows was done
	mBut                      // turns the sentence
	mFuture                   // tomorrow, later
	mExample                  // e.g.
	mCan                      // can, able
	mOpen                     // may stand before what opens a clause: so, well, please
	mPair                     // means something only beside a certain other word
	mUsed                     // used, back, ever: long ago, in general
)
