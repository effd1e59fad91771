package parser

// body says what a word is in talk of the body.
type body uint64

const (
	bSite      body = 1 << iota // a joint or another place that a report may be about
	bFleshy                     // a site with much muscle around it: its plain tiredness is none
	bBare                       // an arm, a chest: only pain of it counts, no soreness
	bTissue                     // tendon, joint, bone: makes soreness of a muscle a report
	bMuscle                     // a muscle, or its soreness
	bAway                       // a part that ring work does not hurt, or a cause elsewhere
	bPain                       // says pain wherever it stands beside a site
	bSore                       // pain of a joint, plain work of a muscle
	bTired                      // a worn joint, plain work of a muscle
	bWeak                       // says pain only as what is said of a site: grumpy
	bUrgent                     // numb, swollen: see a doctor
	bBurst                      // popped, snapped: urgent where it happened in a joint
	bNoise                      // pop, snap: the same behind a, loud, felt
	bSkin                       // skin, callus, blister
	bTorn                       // ripped, peeling: of hands and skin
	bDenies                     // denies what follows
	bGood                       // fine, happy
	bOver                       // gone, free, none: denies what goes before
	bOther                      // somebody else
	bYou                        // the one spoken to
	bMine                       //
	bIf                         // supposes whatever follows in the sentence
	bFear                       // supposes what follows in the clause
	bPast                       // long ago
	bLink                       // may stand between a site and what is said of it, or a denial and what it denies
	bThing                      // behind a site: a thing, not the place
	bMove                       // behind a site: an exercise or a posture
	bCare                       // icing, physio: somebody sees to a hurt
	bLimp                       // straighten, bend: urgent behind can't
	bUnable                     // can't, won't
	bNow                        // says that it is so at present
	bNight                      // woke, sleep
	bReturn                     // back, again: right behind a site
	bFigure                     // grease, room: a figure of speech with a body word beside it
	bSplit                      // but, because: a new clause
	bAlmost                     //
	bCondition                  // tendonitis: pain even without a site
	bSomething                  // something, issue: wrong with a site
	bFeel                       // feel, felt
	bSports                     // golfer's, tennis: makes an elbow a condition
	bOnly                       // just, only
	bHappen                     // go, gave, shifted: something did in a joint
	bEager                      // muscle at work: pumped
)

// bComplaint is every way to complain.
const bComplaint = bPain | bSore | bTired | bWeak | bUrgent | bBurst | bNoise

type bodyRow struct {
	b     body
	site  site
	words string
}

// bodyVocabulary lists the words of the body and of pain. The words of the
// sites also open the gate.
var bodyVocabulary = []bodyRow{
	{bSite, siteElbow, "elbow elbows elbo elbos elb elbs elbw elboe ellbow ellbows elobw epicondyle epicondyles elbwo ebow elbow' codo codos coude coudes ellbogen ellenbogen cotovelo cotovelos gomito gomiti elleboog"},
	{bSite, siteWrist, "wrist wrists wirst wirsts wrsit writs rist rists wristt wrst muneca munecas poignet poignets handgelenk handgelenke pulso polso polsi pols"},
	{bSite | bFleshy, siteShoulder, "shoulder shoulders sholder sholders shoulda shouder shouders shoudler shoudlers shulder shoulde shoulderr shldr rotator cuff hombro hombros epaule epaules schulter schultern ombro ombros spalla spalle schouder schouders"},
	{bSite | bFleshy, siteForearm, "forearm forearms forarm forarms foreram forearn unterarm antebrazo"},
	{bSite, siteOther, "finger fingers thumb thumbs knuckle knuckles breastbone pinky pinkie sternum collarbone clavicle metacarpal"},
	{bSite | bBare, siteOther, "hand hands arm arms chest bicep biceps tricep triceps pec pecs"},
	{bSite, siteSkin, "palm palms"},
	{bSite | bTissue, siteOther, "tendon tendons ligament ligaments tendo tendion tendons' sehne"},
	{bSite | bTissue, siteOther, "joint joints bone bones"},
	{bTissue, "", "bony nerve insertion inserts inserted cartilage"},
	{bMuscle, "", "biceps bicep triceps tricep lats lat delts delt traps trap pecs pec muscle muscles muscular meaty rhomboids core abs ab obliques doms lactic"},
	{bMuscle | bEager, "", "pump pumped pumps"},
	{bAway, "", "knee knees ankle ankles leg legs neck head stomach belly tummy tooth toothache headache throat toe toes foot feet shin shins hip hips hamstring hamstrings quad quads calf calves glute glutes face eye eyes ear ears heart ego feelings brain rib ribs groin paw jaw nose achilles butt ass arse jab needle vaccine vaccination cold freezing onions sunburn sunburnt gardening waist"},

	{bPain, "", "aie doi aua hert hurs hurtz pian paim sor aggravates irritates autsch pain pains painful painfull hurt hurts hurting hurted hurty hurtin twinge twinges twinged twingey twingy niggle niggles niggling niggly niggled twisted argh arghh aargh tweak tweaks tweaked tweaky strain strains strained straining sprain sprained sprains pinch pinches pinching pinched pinchy ouchy paining aking crocked stabbing stabby stab discomfort uncomfortable sharp injured injury injure inflamed inflammation inflammed irritated irritation impingement impinged aggravated aggravating agony excruciating ouch ow oww owww owie oof ooof oooof ouchie bruised bruising gyp dislocated sprung nagging pang pangs zing zings zinging zingy twang twanged jolt jolts smarting grating jip duele dolor douleur mal schmerz schmerzen schmerzt weh dor dolore pijn jacked jammed busted broke fractured overuse overstretched overextended hyperextended"},
	{bPain | bSore, "", "sore soreness sorer soar ache aches aching achy achey ached achin throb throbs throbbing throbbed tender tenderness"},
	{bPain | bTired, "", "burning burns fire killin toast cooked fried shot wrecked dead knackered smoked killing destroyed"},
	{bPain | bCondition, "", "tendonitis tendinitis tendinopathy tendonopathy tendinosis epicondylitis bursitis tendonosis tendinits tendonits tendonitus tendinitus"},
	{bSports, "", "golfers golfer's golfer tennis climbers climber's"},
	{bWeak, "", "bad dodgy grumpy angry cranky crankier stiff stiffness tight tightness unhappy iffy funny rough creaky crunchy crunching grinding grindy clicky unstable wobbly loose rubbish weird off strange odd complaining complains complained moaning whining whispering barking screaming shouting bothering bothers bothered bugging bugs annoying annoyed playing acting messed screwed ruined broken buggered paying hates hate dislikes meh mess moody improving recovering crap stupid damn awful terrible horrible nasty beat beaten talking flaring catches catching suffering struggling worse protesting sensitive trouble troubles issues issue problem problems grief hell hot warm clicking clicks clunking clunks gone wonky temperamental dicey touchy janky weak sus suspect sketchy delicate fragile grumbling grumbles grumbly grouchy gammy ropey ropy protests protested griping yelling yelled screamed shouted tugging twangy raw wrong"},
	{bUrgent, "", "numb numbness tingling tingles tingly tingle tinglin swelling swells subluxed subluxation swollen swelled swole puffy puffed socket needles weakness deformed dislocated paralysed paralyzed electric balloon"},
	{bBurst, "", "popped popping pops snapped snapping cracked"},
	{bNoise, "", "pop snap crack lump"},
	{bSkin, "", "skin callus calluses callous callouses calus blister blisters blistered flapper flappers chafing graze grazed grazes abrasion scab rawness"},
	{bTorn, "", "ripped rip ripping torn tore tear tears raw peeling peeled bleeding bleed bled bloody chafed rubbed shredded shreds split splitting cut cuts scraped stings sting stinging scratched"},

	{bDenies, "", "no not doesn't doesnt don't dont didn't didnt isn't isnt aren't arent wasn't wasnt never without zero nothing haven't havent hasn't hasnt neither nor non hardly ain't"},
	{bOver, "", "gone cleared free prevention none zero healed recovered nil disappeared vanished resolved kein keine sin sem senza"},
	{bGood, "", "fine ok okay good great happy solid perfect healthy better well awesome clear alright nice okey right ideal fresh fantastic super amazing bueno bien gut relaxed normal 100 stable quiet loving liking enjoying keen fan impressed thrilled pleased amused chuffed"},
	{bOther, "", "he she they him her his hers their them someone somebody people anyone everybody everyone guy gymnast girl dude client student colleague boss partner teammate neighbour neighbor uncle aunt grandma grandpa player players climber climbers beginners who whose others wife wife's wifes husband friend friends mate's kid kids brother sister son daughter mum mom dad girlfriend boyfriend dog cat lad bloke"},
	{bYou, "", "your you you're u ur yours yer y'all"},
	{bMine, "", "my me i mi meine mein mon ma minha meu mio i'm im i've ive myself mine"},
	{bIf, "", "if lest when-if suppose supposing imagine assuming hypothetically"},
	{bFear, "", "scared afraid avoid avoiding prevent preventing prevents prevention fear hopefully hope hoping risk risks careful protect protecting would bulletproof prehab cause causes could will gonna won't'll i'll eventually difference general avoids stops article podcast book study studies paper blog webinar lecture protects"},
	{bPast, "", "teenager teen childhood"},
	{bLink, "", "is are was were did does be been being am a bit little very really so still kinda kind of sort sorta pretty quite has have had keeps keep kept both again also now today tonight got gets getting get the at all any much even slightly rather mildly somewhat abit lil touch tad too actually either it it's its been seem seems starting started start starts to goes going went like yesterday lately my that this fairly definitely proper well bloody absolutely side sides left right r l feelin joint joints tendon tendons or longer anymore from during me with as real major sign feel feels felt feeling just in acting giving more most totally completely super bit's there always thing stuff finally completely long close clench"},
	{bThing, "", "sleeve sleeves wrap wraps pad pads strap straps brace braces guard guards watch height width level levels size bag grease room stand band belt tattoo"},
	{bMove, "", "warmup warm-up warm mobility circle circles rolls roll stretch stretches support supports press presses position positions angle extension flexion rotation depth curl curls push taps tap pulls opener openers prep conditioning exercises exercise work stability strength drill drills"},
	{bCare, "", "icing iced ice ibuprofen physio physiotherapist doctor doc strapped rehab rehabbing mri xray x-ray ultrasound painkiller painkillers paracetamol voltaren cortisone nursing resting babying surgery"},
	{bLimp, "", "straighten straightening straigten straightn straighen straightening bend extend lift raise move rotate flex straight twist turn sleep fist jar sleeping"},
	{bUnable, "", "can't cant cnat cannot won't wont couldn't couldnt unable barely struggle struggling"},
	{bNow, "", "hurts aches hurting aching still sore duele schmerzt"},
	{bNight, "", "awake woke wakes waking wake woken night overnight sleep sleeping"},
	{bReturn, "", "back again returned returns there recurring"},
	{bFigure, "", "grease room slap ego carrying rubbing angel cry chip gain rub"},
	{bSplit, "", "but though tho although however then because cos cuz coz while except yet unless so"},
	{bAlmost, "", "almost nearly"},
	{bSomething, "", "something something's somethings smth wrong issue issues trouble problem problems"},
	{bFeel, "", "feel felt feeling feels heard hear"},
	{bOnly, "", "just only purely simply"},
	{bHappen, "", "go went gave pulled shifted give moved tore torn happened"},
}

// siteOf maps a site's words to it.
var siteOf = func() map[string]site {
	sites := map[string]site{}
	for _, row := range bodyVocabulary {
		if row.site != "" {
			eachWord(row.words, func(word string) { sites[word] = row.site })
		}
	}
	return sites
}()
