"""Sentences of a short-game talk for the tests of the voice: to train on, held out, and off the topic."""

import random

ONES = "one two three four five six seven eight nine".split()
TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split()
TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
NUMBERS = ONES + TEENS + [f"{ten}{one}" for ten in TENS for one in ["", *(f" {o}" for o in ONES)]]
NUMBERS.append("a hundred")

UNITS = ["yards"] * 6 + ["paces", "metres", "feet", "meters", "steps"]
LIES = [
    "in the rough",
    "in light rough",
    "in heavy rough",
    "in deep rough",
    "from the fairway",
    "on the fairway",
    "on the fringe",
    "just off the green",
    "on hardpan",
    "on a bare lie",
    "in a divot",
    "in the sand",
    "in the greenside bunker",
    "in a bunker",
    "buried in the bunker",
    "plugged in the sand",
    "on pine straw",
    "sitting up in the first cut",
    "sitting down in thick grass",
    "off a tight lie",
    "on wet grass",
    "fluffy lie",
    "clean lie",
    "on the apron",
    "on the collar",
    "nestled down",
    "in the semi",
]
STANCES = [
    "ball above my feet",
    "ball below my feet",
    "uphill lie",
    "downhill lie",
    "on a downslope",
    "on an upslope",
    "sidehill",
    "flat stance",
    "slightly uphill",
    "slightly downhill",
]
PINS = [
    "pin front",
    "pin back",
    "pin in the middle",
    "front pin",
    "back pin",
    "middle pin",
    "back left pin",
    "front right pin",
    "flag at the back",
    "flag up front",
    "pin tucked left",
    "pin tucked right",
    "short sided",
    "plenty of green to work with",
    "not much green to work with",
    "pin tucked behind the bunker",
    "flag on the top tier",
    "pin cut close to the edge",
]
HAZARDS = [
    "bunker short",
    "bunker between me and the pin",
    "water long",
    "water short",
    "water left",
    "water right",
    "trees behind",
    "out of bounds long",
    "bunker to carry",
    "over a bunker",
    "over water",
    "over the ridge",
    "pond short of the green",
    "bunker right",
    "bunker left",
    "drop off behind the green",
    "false front",
]
GREENS = [
    "green is fast",
    "green is slow",
    "green is firm",
    "green is soft",
    "green slopes toward me",
    "green slopes away",
    "green runs away from me",
    "green running left to right",
    "breaking right to left",
    "firm and fast",
    "soft and slow",
    "downhill to the pin",
    "uphill to the hole",
    "stimp ten",
    "stimp eleven",
    "stimp nine",
]
WINDS = [
    "into the wind",
    "downwind",
    "wind from the left",
    "wind from the right",
    "wind helping",
    "wind hurting",
    "crosswind",
    "no wind",
    "breeze behind me",
    "into a breeze",
    "wind in my face",
]
CLUBS = [
    "pitching wedge",
    "gap wedge",
    "sand wedge",
    "lob wedge",
    "nine iron",
    "eight iron",
    "seven iron",
    "fifty six",
    "sixty degree",
    "fifty two degree",
    "fifty degree",
    "fifty four",
    "fifty eight",
    "putter",
]
SHOTS = ["chip", "pitch", "bump and run", "flop", "lob", "splash", "chip and run", "pitch and run"]
OTHER = [
    "what if i use the {club}", "what about the {club}", "why the {club}", "why not the {club}",
    "why that club",
    "say that again", "repeat that", "what was the number", "i said {n}", "no {n} {u}", "make that {n} {u}",
    "no the bunker is right", "i hit it fat", "i hit it thin", "i duffed it", "i chunked it", "i shanked it",
    "it came up short", "it went long", "i left it {n} feet short", "it finished {n} feet from the hole",
    "holed it", "yes", "no", "next hole", "how far should i land it", "where should i land it", "which club",
    "what club", "how do i play it", "can i putt it", "should i chip or putt", "should i hit a {shot}",
    "what if i {shot} it", "play the {shot} with the {club}", "{n} foot putt", "{n} foot putt {green}",
    "putt of {n} feet {green}", "undo that", "stop", "help", "thank you", "ready",
]  # fmt: skip


def training(count: int, seed: int = 1) -> list[str]:
    """That many sentences, the same for the same seed."""
    pick = random.Random(seed)
    shapes = [
        "{dist} {parts}", "{dist} {parts}", "{dist} {parts}", "i have {dist} {parts}",
        "i've got {dist} {parts}",
        "{dist} to the pin {parts}", "{dist} to the flag {parts}", "{dist} to the hole {parts}",
        "ball is {lie} {dist} {parts}", "i'm {lie} {dist} {parts}", "{lie} {dist} {parts}",
        "it's {dist} {parts}", "about {dist} {parts}", "{dist} out {parts}", "{n} {parts}",
        "{dist} to carry the bunker {parts}", "it's {dist} to the front and {dist} to the pin {parts}",
        "{dist} to the front edge {dist} to the flag {parts}", "{parts} {dist}",
    ]  # fmt: skip
    sentences = []
    for _ in range(count):
        if pick.random() < 0.2:
            text = pick.choice(OTHER)
        else:
            text = pick.choice(shapes)
            kinds = pick.sample([LIES, STANCES, PINS, HAZARDS, GREENS, WINDS], pick.randint(0, 4))
            text = text.replace("{parts}", " ".join(pick.choice(kind) for kind in kinds))
        while "{dist}" in text:
            text = text.replace("{dist}", f"{pick.choice(NUMBERS)} {pick.choice(UNITS)}", 1)
        while "{n}" in text:
            text = text.replace("{n}", pick.choice(NUMBERS), 1)
        for slot, kind in {
            "{lie}": LIES, "{u}": UNITS, "{club}": CLUBS, "{shot}": SHOTS, "{green}": GREENS,
        }.items():  # fmt: skip
            text = text.replace(slot, pick.choice(kind))
        sentences.append(" ".join(text.split()))
    return sentences


# Written apart from the shapes above, as different people might say it.
HELD_OUT = [
    "so i've got about forty seven yards left and it's sitting in the heavy rough",
    "the ball's in the sand and the pin's sixteen yards away at the back",
    "looks like sixty yards to me with the wind in my face",
    "i'm thirty three paces from the hole on the fringe",
    "call it eighty eight yards to the flag downhill all the way",
    "chip from just off the green fifteen yards green slopes away from me",
    "fifty yards buried lie in the bunker short sided to a back pin",
    "it's seventy four to the pin and there's water short",
    "twenty two yards thick grass and the flag is tucked right behind the bunker",
    "my lie is bare and i have thirty nine yards to a front pin",
    "ball below my feet fifty five yards and out of bounds over the back",
    "ninety two yards from the middle of the fairway no wind",
    "i've about nineteen yards from the first cut and the green is really fast",
    "got sixty eight yards here off a downhill lie over the pond",
    "what would you hit from forty yards into the wind with the pin up front",
    "i think it is eighty five yards and the green is soft",
    "thirteen paces on the collar uphill to the hole",
    "seventy yards out of a divot and a ridge in front of the flag",
    "hundred yards to the flag a little breeze behind",
    "only twelve yards of green and i'm in the deep stuff",
    "thirty feet away putting downhill with a break from right to left",
    "it's a twenty five yard shot from hardpan under the trees",
    "sixteen steps from the edge of the green to a pin on the top tier",
    "i'm plugged in the greenside bunker about eleven yards from the pin",
    "forty four metres uphill with the ball above my feet",
    "we have fifty nine to the front and sixty six to the pin",
    "eighty yards from wet rough and trees behind the green",
    "this one is thirty five yards and i need to carry a bunker on the left",
    "pin is at the back it's sixty three yards the green is firm",
    "twenty eight yards off pine straw nothing in the way",
    "sand shot seventeen yards to a middle pin green running away",
    "around fifty three yards with the grass sitting down behind the ball",
    "seventy eight yards hurting wind and a bunker right",
    "fourteen yards from the apron stimp is eleven",
    "wedge shot of ninety yards to a soft green with water left",
    "i left myself forty two yards in the semi rough with a back left flag",
    "eighteen feet for the save a bit uphill",
    "bunker between me and the flag thirty yards with a fluffy lie",
    "sixty one yards on a side slope and the pin is cut on the right",
    "ninety eight to the hole flat lie short grass",
    "hey i'm seventy two yards away and the ball is sitting up nicely",
    "from the bunker it's twenty one yards and the sand is soft",
    "eighty three yards wind off the left middle pin",
    "there's a pond on the right and it's sixty four to the flag",
    "tricky one here ten yards from thick rough with the green sloping away",
    "thirty six yards into the breeze from the fairway",
    "my ball's on the collar eleven paces from the hole",
    "what's the play from fifty two yards with a front pin",
    "ninety five yards slightly uphill and the green is firm",
    "i have a forty three yard pitch over a bunker",
    "short sided in the sand only eight yards to the flag",
    "it's a downhill lie and i've got fifty seven to the pin",
    "eighteen paces off the fringe breaking left to right",
    "the flag's at the front and i'm seventy six yards out",
    "thirty one yards from the trees low under the branches",
    "ball's plugged fourteen yards to a back right pin",
    "just under a hundred to the middle no trouble",
    "sixty seven yards ball above my feet wind helping",
    "putting from off the green forty feet uphill",
    "twenty four yards and i really want to keep it low",
]

OFF_TOPIC = [
    "did you see the football last night it went to penalties",
    "my brother is moving house next month so we are helping him pack",
    "can you pass me the water bottle please",
    "i think we should order pizza when we get back to the clubhouse",
    "the weather forecast said it might rain later this afternoon",
    "how are the kids getting on at school these days",
    "my phone battery is nearly dead again",
    "let's meet at the car park at half past six tomorrow",
    "i watched a film about a detective in paris",
    "the meeting with the accountant is on thursday morning",
    "she told me that the train was delayed for two hours",
    "have you tried that new restaurant near the station",
    "my knee has been hurting since i went running on sunday",
    "we need milk bread and a dozen eggs from the shop",
    "he bought a second hand car from his neighbour",
    "the dog barked at the postman all morning",
    "could you send me the photographs from your holiday",
    "interest rates are going up again they say",
    "i forgot my password and had to reset everything",
    "your shirt is a nice colour where did you buy it",
    "mum called to say that dinner will be ready at seven",
    "there was an accident on the motorway this morning",
    "i am reading a book about the history of trains",
    "the computer at work keeps crashing every hour",
    "what time does the supermarket close on saturdays",
    "they painted the kitchen yellow and it looks wonderful",
    "honestly the traffic around the airport was terrible",
    "my wife is learning to play the piano",
    "did anybody hear what the president said yesterday",
    "the doctor told him to drink less coffee",
    "it takes twenty minutes to walk to the office from here",
    "we are going to spain for ten days in august",
    "the baby slept through the whole night for once",
    "i would like a cheese sandwich and a cup of tea",
    "remember to lock the door when you leave the house",
    "her birthday is on the fifteenth of march",
    "the new boss wants everyone in the office by nine",
    "that song has been stuck in my head all week",
    "my grandfather used to repair watches and clocks",
    "someone parked right across our drive again",
]

# A second set of each, kept unread while the voice is worked on: the published figures are of these.
UNSEEN = [
    "seventy three yards from the first cut and the flag is at the back",
    "i'm forty one yards short of the flag with a bunker in the way",
    "eighteen yards from light rough and the green runs away from me",
    "it's sixty two yards off a tight lie with the wind behind",
    "about twenty six paces and the ball is sitting down in thick grass",
    "greenside bunker fourteen yards the lip is high and the sand is firm",
    "ninety four yards in the fairway slight breeze from the right",
    "okay caddie i've got fifty six to the pin and thirty eight to carry the water",
    "thirty four yards uphill lie pin on the top shelf",
    "eleven paces off the green the fringe is wet",
    "thirty seven feet on the green downhill and it swings right to left",
    "sixty nine yards and there's nothing but trees behind the green",
    "twenty three yards bare lie over a bunker to a tight pin",
    "we're eighty one yards out it's playing into a strong wind",
    "chipping from the collar nine paces the green is quick",
    "forty six yards out of a divot and the pin's on the right",
    "seventeen yards in deep rough i only have five paces of green",
    "fifty one yards the ball is above my feet and water is left",
    "one hundred yards front pin green slopes toward me",
    "eighty four to the middle and the ground is soft after the rain",
    "the bunker lie is plugged and it's ten yards to the hole",
    "i've got sixty five yards left downhill stance and a pond in front",
    "it's a thirty two yard pitch from the semi and i'm short sided",
    "nineteen paces up a slope to a middle flag",
    "seventy seven yards with out of bounds right and a helping breeze",
    "five foot putt a little uphill left edge",
    "twenty nine yards to the front and forty five to the flag",
    "ball in a hollow twenty yards ridge between me and the pin",
    "eighty nine yards short grass flag tucked behind the left bunker",
    "fifteen yards from heavy rough with plenty of green",
    "fifty eight yards on pine needles under the branches",
    "forty eight yards the lie is good and the wind is off the right",
    "i've thirty yards to a back pin and the green is firm",
    "sixty six yards out of the sand with a high lip",
    "ninety one yards pin cut front left over the bunker",
    "twelve yards just off the fringe fast and downhill",
    "how far do i carry it from thirty five yards on a downslope",
    "should i putt it from eight paces off the green",
    "seventy one yards what happens if i hit the gap wedge",
    "can i chip it with the eight iron from twenty five paces",
    "i finished twelve feet past the hole",
    "it came out thin and went over the back",
    "no it's thirty nine yards not thirty",
    "make it heavy rough and a back pin",
    "thirty three yards light rough water long",
    "the flag is fifty two away and the green is soft",
    "forty four yards ball below my feet bunker right",
    "eighty six yards wind in my face pin middle",
    "eighteen foot putt slightly downhill breaking left",
    "sixty four yards from wet grass with water short",
    "i'm in the trees twenty seven yards from the flag keep it low",
    "thirteen yards fluffy lie bunker between me and the hole",
    "ninety seven yards downwind to a firm green",
    "seventy five yards from the left rough flag back right",
    "fifty three yards a ridge in the green and the pin is behind it",
    "sixteen yards hardpan and there's a bunker over the back",
    "about eighty two yards and the pin is up front",
    "thirty eight paces fairway grass no wind at all",
    "twenty one feet across the slope breaking left to right",
    "forty yards from the bunker to a middle pin",
]

UNSEEN_OFF_TOPIC = [
    "we went to the cinema on friday but the film was far too long",
    "has your daughter finished her exams yet",
    "the plumber is coming on tuesday to mend the boiler",
    "i bought these shoes in the sale they were very cheap",
    "my neighbour has just got a new puppy",
    "do you want coffee or would you rather have a beer afterwards",
    "the council is digging up our street again",
    "he retired last year and now he grows tomatoes",
    "what do you think about the election",
    "i have to be at the dentist by quarter to four",
    "they lost three nil at home and the manager was sacked",
    "our flight was cancelled so we slept at the airport",
    "i never know what to cook on a monday",
    "the insurance company still has not paid for the window",
    "is that a new watch it looks expensive",
    "my sister teaches french at a school in leeds",
    "there is a good programme about whales on tonight",
    "the battery in my car died twice this winter",
    "remind me to ring the bank when we get in",
    "she has been married for twenty five years",
    "we had a lovely lunch by the river on sunday",
    "the printer never works when you need it",
    "his back is playing up so he cannot lift anything",
    "somebody left their keys on the bar last night",
    "i read in the paper that house prices fell again",
    "are you coming to the quiz on wednesday",
    "the kids want a trampoline for christmas",
    "my boss is on holiday until the end of the month",
    "it was so hot that nobody could sleep",
    "have you got change for the ticket machine",
    "the restaurant lost our booking and we waited an hour",
    "his new job is in marketing i believe",
    "we are thinking of painting the fence green",
    "you should see a doctor about that cough",
    "grandma turned ninety and the whole family came",
    "i cannot find my glasses anywhere",
    "they raised the price of diesel by ten pence",
    "did you remember to feed the cat",
    "the choir is singing at the town hall in december",
    "let us share a taxi home after the party",
]


def first_number(text: str) -> str | None:
    """The first spoken number of a sentence, as words, or None."""
    words = text.replace("-", " ").split()
    tens, teens, ones = set(TENS), set(TEENS), set(ONES)
    for place, word in enumerate(words):
        if word == "hundred":
            return "hundred"
        if word in tens:
            follow = words[place + 1] if place + 1 < len(words) else ""
            return f"{word} {follow}" if follow in ones else word
        pronoun = word == "one" and words[max(place - 1, 0)] in ("this", "that", "each")
        if word in teens or (word in ones and not pronoun):
            return "hundred" if words[place + 1 : place + 2] == ["hundred"] else word
    return None
