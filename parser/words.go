package parser

import (
	"strings"
)

// word is what the language knows of a word.
type word struct {
	f flags
	m mood
	b body
	n int32

	most int8 // a programme's names: the most words of one that begins with this
	part bool // this is a word of one
}

// language holds the words that belong to the language and not to a programme,
// folded. It is filled once, by the tables of this package, and only read then.
var language = buildLanguage()

// languageTable holds the same for the scanner.
var languageTable = newWordTable(language)

func buildLanguage() map[string]word {
	words := map[string]word{}
	for _, row := range vocabulary {
		for _, text := range strings.Fields(row.words) {
			w := words[text]
			w.f |= row.f
			w.m |= row.m
			if row.n != 0 {
				w.n = row.n
			}
			words[text] = w
		}
	}
	for _, row := range bodyVocabulary {
		eachWord(row.words, func(text string) {
			w := words[text]
			w.b |= row.b
			words[text] = w
		})
	}
	for _, list := range numerals {
		for i, text := range strings.Fields(list.words) {
			for _, text := range strings.Split(text, "|") {
				w := words[text]
				w.f |= list.f
				w.n = int32(list.first + i*list.step)
				words[text] = w
			}
		}
	}
	tens := strings.Fields(numerals[1].words)
	ones := strings.Fields(numerals[0].words)[1:10]
	for i, ten := range tens {
		for _, ten := range strings.Split(ten, "|") {
			for j, one := range ones {
				words[ten+one] = word{f: fOnes, n: int32(20 + 10*i + j + 1)}
			}
		}
	}
	joinTens(words)
	return words
}

// joinTens adds the numerals of German and Spanish that are one word:
// funfundzwanzig, veinticinco.
func joinTens(words map[string]word) {
	for i, one := range strings.Fields("ein zwei drei vier funf sechs sieben acht neun") {
		for j, ten := range strings.Fields("zwanzig dreissig vierzig funfzig") {
			words[one+"und"+ten] = word{f: fOnes, n: int32(20 + 10*j + i + 1)}
		}
	}
	for i, one := range strings.Fields("uno dos tres cuatro cinco seis siete ocho nueve") {
		words["veinti"+one] = word{f: fOnes, n: int32(21 + i)}
	}
}

// eachWord calls do with each word of a row.
func eachWord(words string, do func(string)) {
	for word := range strings.FieldsSeq(words) {
		do(word)
	}
}

// monthDays stands for a month where spans are counted in days: 2 months ago is
// the same day of the month before last.
const monthDays = 30

// numerals count up from first by step. Words that are everyday English (sex,
// once, die, due) are left out of the other languages.
var numerals = []struct {
	words       string
	first, step int
	f           flags
}{
	{"zero one two three four five six seven eight nine ten eleven|elven twelve|twelf thirteen|thirteeen fourteen|forteen fifteen|fiveteen sixteen seventeen eighteen|eightteen nineteen|ninteen", 0, 1, fOnes},
	{"twenty|twent|twentey thirty|thrity|thirthy forty|fourty fifty|fivty sixty seventy eighty|eigthy ninety|ninty", 20, 10, fTens},
	{"uno|una|un|une|ein|eine|einen|um|uma|een dos|deux|zwei|dois|duas|twee tres|trois|drei|tre|drie cuatro|quatre|vier|quatro|quattro cinco|cinq|funf|cinque|vijf seis|sechs|sei|zes siete|sept|sieben|sete|sette|zeven ocho|huit|acht|oito|otto nueve|neuf|neun|nove|negen diez|dix|zehn|dez|dieci|tien", 1, 1, fOnes},
	{"veinte|vingt|zwanzig|vinte|venti|twintig treinta|trente|dreissig|dreisig|trinta|trenta|dertig cuarenta|quarante|vierzig|quarenta|quaranta|veertig cincuenta|cinquante|funfzig|cinquenta|cinquanta|vijftig sesenta|soixante|sechzig|sessenta|sessanta|zestig", 20, 10, fTens},
	{"onze|elf|undici doce|douze|zwolf|dodici|doze|twaalf trece|treize|dreizehn|tredici|treze|dertien catorce|quatorze|vierzehn|quattordici|veertien quince|quinze|funfzehn|quindici|vijftien dieciseis|sechzehn|sedici|dezesseis|zestien diecisiete|siebzehn|dezessete|zeventien dieciocho|achtzehn|dezoito|achttien diecinueve|neunzehn|dezenove|negentien", 11, 1, fOnes},
	{"first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth twentieth", 1, 1, fOrdinal},
	{"twentieth thirtieth", 20, 10, fOrdinal},
}

type row struct {
	f     flags
	m     mood
	n     int32
	words string
}

// vocabulary lists the language by what a word does.
var vocabulary = []row{
	// sizes
	{fHundred, 0, 100, "hundred"},
	{fHalf, 0, 500, "half media medio demi halbe meia mezzo"},
	{fHalf, 0, 250, "quarter quarters"},
	{fHalf, 0, 1500, "anderthalb anderthalbe"},
	{fCouple, 0, 2, "couple pair"},
	{fCouple, 0, 12, "dozen dozens"},
	{fSec, 0, 0, "s sec secs second seconds secound secounds secend sceonds seconsd scond sconds se secon secnds seg segs segundo segundos seconde secondes sek sekunde sekunden secondi secondo seconden seconden' сек с секунд 秒 秒間 초"},
	{fMin, 0, 0, "m min mins minute minutes minuet minuets minuts minut mintue mintues minutos minuto minuten minuti minuut мин минут 分 분"},
	{fHour, 0, 0, "h hr hrs hour hours hora horas heure heures stunde stunden ora ore uur std"},
	{fRep, 0, 0, "rep reps r repetition repetitions rps repeticiones repeticoes reps. wdh wiederholungen ripetizioni herhalingen 回 次 повтор"},
	{fKg, 0, 0, "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes кг"},
	{fLb, 0, 0, "lb lbs pound pounds pd #"},
	{fSet, 0, 0, "set sets series serie serien satz satze satzen conjuntos sett setts sts bout bouts 组 組 セット"},
	{fRound, 0, 0, "round rounds rnd rnds rds superset supersets triset trisets circuit circuits cycles cycle lap laps runde runden rondas vueltas tours rondes giri"},
	{fTimes, 0, 0, "x times mal veces fois vezes volte keer by"},
	{fTimes, 0, 0, "lots"},
	{fTwice, 0, 1, "once"},
	{fTwice, 0, 2, "twice zweimal"},
	{fTwice, 0, 3, "thrice dreimal"},
	{fTwice, 0, 4, "viermal"},
	{fAnd, 0, 0, "and n und et y e en plus also nd"},
	{fThen, 0, 0, "then followed afterwards after next luego dann puis depois poi dan finally lastly finished finishing into"},
	{fOf, 0, 0, "of de von di da van"},
	{fFill, 0, 0, "the a an of in for on at with w my our some about around approx roughly circa ca each total in a max maxed all to total over il hace vor ha el manage single holding held hold hangs hanging worth working work long lasting time"},
	{fFill | fRemark, 0, 0, "actually just only exactly nearly almost barely easily finally still even proper full solid straight good nice decent clean strict quality easy hard tough heavy light quick short quiet controlled smooth smoother perfect shaky ugly sloppy rough grindy tired fresh unbroken continuous"},
	{fFill | fStyle, 0, 0, "unassisted unaided strict weighted deadstop paused pause tempo slow fast bodyweight bw chest bar wide narrow neutral supinated overhand underhand deep turned rto bent straight tucked full false grip fg assisted ring rings gymnastic"},
	{fFill, 0, 0, "ladder pyramid alternating alternate backlog backfill belated delayed catchup"},
	{fFill, mDid, 0, "alternated did done managed completed finished logged got hit held made added log logging knocked banged smashed crushed nailed ground cranked survived went was were been had gave took came ended practised practiced trained worked reached scored grabbed squeezed snuck racked stayed spent lasted remained kept maintained sustained endured clocked collected earned notched bagged tallied chalked topped settled repped pulled cruised powered battled struggled fought scraped wrestled crawled hammered blasted tacked tested drilled performed executed accomplished achieved recorded registered totalled totaled cleared bashed eked squeaked hung churned whipped rattled pounded sneaked slotted fitted improved hecho gemacht geschafft fait feito fatto gedaan hice hab fiz"},
	{fRemark, 0, 0, "feel feeling feels felt better best worse great awesome ok okay fine strong stronger weak sore happy progress well bit little really very so too much more less than it its that this these those them they're it's there here as not"},
	{fAt, 0, 0, "at"},
	{fWith, 0, 0, "with w con mit avec com met using wearing holding"},
	{fVow, 0, 0, "pr pb prs pbs personal record best"},
	{fFill | fVow, 0, 0, "new max best longest hardest pb pr"},
	{fLead, 0, 0, "on from of the for in"},

	// rest
	{fRest, 0, 0, "rest rests resting rested restd pause pauses break breaks recovery recover recovering breather pausa pausas repos descanso descansos descanso recupero rust gap"},
	{fOn, 0, 0, "on work hang"},
	{fOff, 0, 0, "off rest"},
	{fBetween, 0, 0, "between btw btwn b/w betwen inbetween in-between entre zwischen tra tussen apart"},

	// days
	{fWeekday, 0, 0, "sunday sun sundays domingo sonntag dimanche domenica zondag"},
	{fWeekday, 0, 1, "monday mon mondays lunes montag lundi lunedi maandag segunda mondey munday"},
	{fWeekday, 0, 2, "tuesday tue tues tuesdays martes dienstag mardi martedi dinsdag terca teusday tuseday"},
	{fWeekday, 0, 3, "wednesday wed weds wednesdays miercoles mittwoch mercredi mercoledi woensdag quarta wendsday wensday"},
	{fWeekday, 0, 4, "thursday thu thur thurs thursdays jueves donnerstag jeudi giovedi donderdag quinta thrusday"},
	{fWeekday, 0, 5, "friday fri fridays viernes freitag vendredi venerdi vrijdag sexta"},
	{fWeekday, 0, 6, "saturday sat saturdays sabado samstag samedi sabato zaterdag saterday"},
	{fMonth, 0, 1, "january jan januar enero janvier janeiro gennaio januari"},
	{fMonth, 0, 2, "february feb februar febrero fevrier fevereiro febbraio februari febuary"},
	{fMonth, 0, 3, "march mar maerz marz marzo mars marco maart"},
	{fMonth, 0, 4, "april apr abril avril aprile"},
	{fMonth, 0, 5, "may mayo mai maio maggio mei"},
	{fMonth, 0, 6, "june jun juni junio juin junho giugno"},
	{fMonth, 0, 7, "july jul juli julio juillet julho luglio"},
	{fMonth, 0, 8, "august aug agosto aout augustus"},
	{fMonth, 0, 9, "september sep sept septiembre septembre setembro settembre"},
	{fMonth, 0, 10, "october oct oktober octubre octobre outubro ottobre okt"},
	{fMonth, 0, 11, "november nov noviembre novembre novembro"},
	{fMonth, 0, 12, "december dec dezember diciembre decembre dezembro dicembre dez dic"},
	{fToday, 0, 0, "today tday 2day todays today's tonight tonite tonights hoy heute aujourd'hui aujourdhui hoje oggi vandaag сегодня"},
	{fYesterday, 0, 1, "yesterday yday yest yesterdays ystrday yesterda yesteday yestarday ayer gestern hier ontem ieri gisteren вчера"},
	{fYesterday, 0, 2, "anteayer vorgestern avant l'altro altro anteontem eergisteren"},
	{fAgo, 0, 0, "fa geleden ago before back earlier prior"},
	{fLast, 0, 0, "last past previous prev"},
	{fThis, 0, 0, "this"},
	{fDays, 0, 1, "day days d dia dias tag tage tagen jour jours giorno giorni dag dagen nights night"},
	{fDays, 0, 7, "week weeks wk wks w"},
	{fDays, 0, 14, "fortnight fortnights"},
	{fDays, 0, monthDays, "month months"},
	{fDayPart, 0, 0, "morning mornings morn afternoon arvo evening evenings eve night noon lunch lunchtime lunchbreak am pm midday session class workout practice training"},
	{fFill, 0, 0, "this that on earlier from"},

	// effort
	{fEffort, 0, 0, "rpe effort intensity exertion difficulty borg esfuerzo anstrengung rpe's"},
	{fRIR, 0, 0, "rir reserve tank"},
	{fFeel, 0, 0, "say rated rate felt feels feeling like about around maybe roughly approx ~ probably"},
	{fLevel, 0, 2, "easy light"},
	{fLevel, 0, 5, "moderate medium ok"},
	{fLevel, 0, 8, "hard heavy tough"},
	{fLevel, 0, 10, "max maximal limit"},

	// sides
	{fLeft, 0, 0, "left l lt lhs izquierda izquierdo links gauche esquerda esquerdo sinistra lefty"},
	{fRight, 0, 0, "right r rt rhs derecha derecho rechts droite direita direito destra"},
	{fEach, 0, 0, "each per ea every either cada je chaque pro ogni elk"},
	{fBoth, 0, 0, "both beide ambos"},
	{fLimb, 0, 0, "side sides arm arms hand hands leg legs"},

	// help and load
	{fBand, 0, 0, "band bands banded elastic theraband goma banda elastico gummiband elastique"},
	{fActivity, 0, 0, "warm warmup warming cool cooldown session workout training practice class mobility stretching stretch cardio walk run jog bike cycling swim yoga drive film movie podcast nap commute"},
	{fBandKind, 0, 0, "red green blue black purple yellow orange grey gray pink white brown thick thin heavy light medium strong mini small big thinner thicker lighter heavier"},
	{fToes, 0, 0, "toe toes foot feet toed tippytoes tiptoes heels"},
	{fFloor, 0, 0, "down floor ground touching grounded dragging assist assisted assistance assisting support supported light lightly box helping help bottom mat"},
	{fPartner, 0, 0, "partner spotter spotted spot buddy"},
	{fHelped, 0, 0, "assisted assistance assist help helped supported support aided kipping kipped kip"},
	{fFail, 0, 0, "fail failed fails failure f failing fell slipped dropped aborted bailed nope missed"},
	{fTry, 0, 0, "try tries attempt attempts attempted attemps attemtps goes tried versuche intentos essais"},
	{fMade, 0, 0, "luck joy dice makes done made landed successful success good stuck worked got hit succeeded completed came clean"},
	{fNone, 0, 0, "none zero no nothing neither nada"},
	{fLoad, 0, 0, "weighted weight vest weightvest plate plates added dumbbell dumbell db kettlebell kb belt extra chain backpack ankle weights load loaded"},
	{fCounter, 0, 0, "minus counterweight counterbalance counter assistance assist offload pulley unloaded"},
	{fBody, 0, 0, "bw bodyweight unweighted"},

	// heads and notes
	{fNote, 0, 0, "note notes nb ps comment comments remark fyi btw video vid clip form cue"},
	{fHead, 0, 0, "park garage garden hall yard basement playground frame tree beam branch doorframe session workout training log done today tonight evening morning afternoon results result summary rings ring strength skill skills main finisher warmup warm-up warm up part block gym class update report entry numbers day practice am pm late post set sets rounds round also here todays today's mine me best pb pr max new holds work exercise exercises exercice sesion entreno entrenamiento einheit seance treino allenamento"},
	{fFill, 0, 0, "ever same ditto repeated repeat circuit circuits superset supersets session sessions workout training entry late logging update report results summary numbers warmup warm up cool day part block finisher i ive i've we we've me hey hi hello team coach guys folks everyone all yo so ok okay right well phew ugh yay woo woohoo yes yep yeah hola hallo salut ola ciao and also today's todays another again extra first started starting start begin began beginning finisher morning's evening's last night's"},
	{fRemark, 0, 0, "lol haha 😅 felt wow gosh soon rings grip chalk straps strap form sweaty hot cold tape taped phone video vid clip new different focus focused technique cue cues slow slowly legs core tension breathing slipping slip slipped during end middle final one ones everything now since while tight"},

	// moods
	{0, mMe, 0, "i my me mine i'm im i've ive we our we've myself"},
	{0, mYou, 0, "you your yours you're youre u ur ya y'all yall you've"},
	{0, mOther, 0, "he she they him her his hers their them theirs he's she's they're they've someone somebody anyone anybody everyone everybody people guy girl dude wife husband friend friends mate mates brother sister son daughter mum mom dad kid kids boyfriend girlfriend colleague neighbour neighbor beginners beginner newbies newbie bot"},
	{0, mPraise, 0, "congrats congratulations congratz grats kudos bravo respect gz"},
	{0, mSay, 0, "said says say told tell wrote writes posted claims claimed suggested suggests recommends recommended recommend prescribed quote quoted reads means asked asks mentioned reckons shouted"},
	{0, mFuture, 0, "tomorrow tmrw tmr tomorow tommorow tomorrow's later upcoming manana morgen demain amanha domani"},
	{0, mPlan, 0, "gonna going will i'll ill we'll he'll she'll planning plan plans planned menu agenda goal goals target targets aim aiming about tomorrow later upcoming wanna todo soon intend intending intention hoping hope hopefully trying tryna gotta let's lets shall must towards toward ready want wants wanted need needs have next objective"},
	{0, mModal, 0, "if would could should might maybe perhaps suppose supposing supposed imagine unless wish wished coulda woulda shoulda couldve wouldve shouldve could've would've should've i'd we'd otherwise whether hypothetically assuming thoughts opinions advice tips"},
	{0, mOrder, 0, "try do please keep remember reminder type drop increase reduce build progress scale bump add start aim avoid make dont don't stop repeat switch swap replace begin stick consider go give use take bring perform write enter post send hold imagine work"},
	{0, mNot, 0, "never didn't didnt not no can't cant cannot couldn't couldnt won't wont wouldn't haven't havent hasn't wasn't wasnt isn't isnt aren't without skipped skip skipping missed miss missing forgot forget forgotten nothing nowhere nope neither zero none instead don't dont ain't unable failed"},
	{0, mOften, 0, "always usually normally typically generally often sometimes every mondays tuesdays wednesdays thursdays fridays saturdays sundays weekly daily whenever rarely occasionally tends tend"},
	{0, mUsed, 0, "used back ever best max record limit pb pr year years month decade"},
	{0, mMeta, 0, "ignore scratch disregard cancel saved delete remove edit undo format syntax"},
	{0, mAsk, 0, "how what what's whats why who who's when where which is are does do can could should would will anyone has am how's hows"},
	{0, mOpen, 0, "so well just ok okay hey hi please pls guys team also now and but then btw coach yes yeah no oh"},
	{0, mPair, 0, "time programme program by week day month doing log session workout class twenties teens thirties please pls to pb pr nice great good awesome amazing solid strong wow doing holding getting hitting hold g e like well back usual once old sounds sound was days bot gate standard requirement minimum coach read year years month months would could might"},
	{0, mExample, 0, "eg example examples ie template"},
	{0, mCan, 0, "can able"},
	{0, mBut, 0, "but however though although except yet still"},
	{fFill, 0, 0, "seeing seen"},
}
