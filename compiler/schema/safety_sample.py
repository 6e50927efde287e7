"""The sample safety text of the template. It is the coach's to edit and is flagged until it has been.

The signs follow the lists of the ACSM's exercise guidelines and of hospital leaflets; the wording is ours. Local
rules and licensed practice come first.
"""

from __future__ import annotations

BEFORE = (
    "Tell the coach about any new pain, illness, medicine or pregnancy before you train.\n"
    "Warm up first. Check that collars, pins and benches are locked.\n"
    "Use a spotter or safety pins wherever the page says so.\n"
    "If you are unsure whether exercise is safe for you, ask a doctor or physiotherapist first."
)
STOP_SET = (
    "You feel sharp or new pain in a joint or muscle.\n"
    "You can no longer hold the position that the cue asks for.\n"
    "You are not sure that you can finish the next repetition."
)
STOP_SESSION = (
    "You have pain or pressure in the chest, jaw, neck or arm.\n"
    "You feel faint, dizzy or sick, or you are short of breath at rest.\n"
    "Your heartbeat is irregular or races without reason.\n"
    "You have a sudden bad headache, or trouble with speech or sight.\n"
    "You feel weak or numb on one side."
)
