"""The sentences of the conversation that are not advice: short, plain, one breath each."""

HELP = (
    "Say the distance, the lie, the flag and any trouble. Then ask why, what about another club, say ready, "
    "or tell me how it finished."
)
GREETING = "Hello. Tell me the distance and the lie."
OFF_TOPIC = "I only do the short game. Tell me the distance and the lie."
NOTHING_KNOWN = "Tell me the shot first: distance, lie, flag."
NEXT_HOLE = "Next hole. Tell me what you see."
UNDONE = "Taken back."
NOTHING_TO_UNDO = "There is nothing to take back."
SHOT_REMOVED = "Taken back: the last shot is out of the log."
NOT_LOGGED = "I could not write it down: {reason}"
GOODBYE = "Good playing."
COMPETITION_ON = (
    "Competition: Rule 4.3a(1), no club, no line, no reads. "
    "I keep your shots; use the card made before the round."
)
COMPETITION_NO_ADVICE = "Rule 4.3a(1): no advice in competition. {distances}Look at your card."
CONFIRM_LEAVE = "Leave competition mode in the round? Say practice again to be sure."
PRACTICE_ON = "Practice mode: full advice."
STAYS = "Still in competition mode."
ALREADY = "You are in {mode} mode."
CLOSE_CALL = "Was that {first} or {second}?"
NO_LOG = "Heard, and not kept: this talk runs without a log."
