"""The scale a whole session is rated on, asked after it.

CR-10 as modified by Foster's group: the words stand at 0 to 5, 7 and 10, the other numbers have
none (J Sports Sci Med 2006;5:289 ff., Table 1). They ask 30 minutes after the session, so that the
last set does not colour the whole (Foster 1998; 2001).
"""

CR10: dict[int, str] = {
    0: "Rest",
    1: "Very, very easy",
    2: "Easy",
    3: "Moderate",
    4: "Somewhat hard",
    5: "Hard",
    6: "",
    7: "Very hard",
    8: "",
    9: "",
    10: "Maximal",
}
