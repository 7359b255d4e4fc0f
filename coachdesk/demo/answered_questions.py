"""The questions of the week that a coach has answered."""

from coachdesk.demo.scenario import Answer, Ask, DrillChange, Point, Shot

ANSWERED = [
    Ask(
        "saoirse",
        5.2,
        "My back angle holds at 120. At 150 I tip forward on the last rep. Strength, or me?",
        "Wider stance, and slower on the way down.",
        "total",
        (
            Shot("Low-bar squat", "squat", "low_bar", 120, 165, 3, "6.5", shows_fault=False),
            Shot(
                "Low-bar squat",
                "squat",
                "low_bar",
                150,
                165,
                3,
                "8.5",
                faults={"hips_rise_first": 0.9},
                profile="hevc_hlg",
            ),
        ),
        ("belt", "sleeves"),
        answer=Answer(
            "anselm",
            20,
            "Your 120 is tidy: same trunk angle down and up, three times. So you own the movement. "
            "At 150 one thing changes, and it changes a little more on each rep.",
            (
                Point(
                    "Hips rise first",
                    "Out of the bottom your knees straighten before the bar moves. The hips go "
                    "up, the chest stays, and your back has to finish the lift. It is small on "
                    "rep 1 and plain on rep 3.",
                    3,
                    "ascent",
                    1,
                    0.3,
                    change=DrillChange("Pause squat", 3, 3, 6),
                ),
                Point(
                    "Loose brace",
                    "Between reps you take one short breath and go. The brace is gone before "
                    "you are halfway down.",
                    3,
                    "setup",
                    1,
                    0.8,
                ),
                Point(
                    "Hips rise first",
                    "The same on rep 2, half as much.",
                    2,
                    "ascent",
                    1,
                    0.3,
                    ranked=False,
                ),
            ),
            broken=(3,),
            film_again_days=9,
            film_again="Your top set of three, from the side, lens at knee height.",
            understood=True,
        ),
        round_up=True,
    ),
    Ask(
        "tariq",
        4.8,
        "My sumo pull is slow off the floor and my hips come up before the bar does. Start lower?",
        "Sitting lower at the start.",
        "total",
        (
            Shot(
                "Sumo deadlift",
                "deadlift",
                "sumo",
                190,
                205,
                2,
                "9",
                view="45",
                faults={"hips_rise_first": 0.9},
                profile="h264_rotated",
            ),
        ),
        ("belt",),
        answer=Answer(
            "lewis",
            26,
            "Lower is what makes this happen. From down there your hips must rise to where they "
            "can push, and the bar waits for them.",
            (
                Point(
                    "Hips shoot up off the floor",
                    "The hips travel a good way before the discs leave the floor. You start "
                    "from a place you cannot lift from.",
                    2,
                    "ascent",
                    0,
                    0.12,
                ),
            ),
            broken=(2,),
            film_again="One single at today's weight, from the front and from the side.",
        ),
    ),
    Ask(
        "yusuf",
        4.1,
        "Left arm is always behind on the heavy ones. Grip, or weak side?",
        "Moved the left hand out one finger.",
        "strength",
        (
            Shot(
                "Paused bench press",
                "bench_press",
                "paused",
                102.5,
                110,
                3,
                "9",
                view="front",
                faults={"uneven_press": 0.9},
            ),
        ),
        ("wrist-wraps",),
        answer=Answer(
            "petra",
            30,
            "From this end of the bench the bar shows it clearly, so thank you for the angle.",
            (
                Point(
                    "Uneven press",
                    "The left side lags from the chest, not only at the sticking point. You "
                    "leave the chest already tilted.",
                    3,
                    "ascent",
                    0,
                    0.5,
                ),
            ),
            broken=(3,),
            film_again="A top set from the same place, hands even on the ring marks.",
        ),
    ),
    Ask(
        "greta",
        3.9,
        "Knees drift in when it gets hard. Should I push them out or is that normal for me?",
        "A band around the knees in warm-ups.",
        "muscle",
        (
            Shot(
                "High-bar squat",
                "squat",
                "high_bar",
                92.5,
                102.5,
                4,
                "8",
                view="front",
                faults={"knees_in": 0.9},
                profile="vfr",
            ),
        ),
        ("shoes",),
        answer=Answer(
            "anselm",
            18,
            "A little movement of the knees is nothing. Yours come past the foot, so it is worth "
            "the work.",
            (
                Point(
                    "Knees come in",
                    "Both knees travel inside the feet as you leave the bottom, more on the "
                    "last two reps.",
                    4,
                    "ascent",
                    0,
                    0.3,
                ),
            ),
            broken=(4,),
            film_again_days=14,
            film_again="From the front again, set of four.",
            understood=True,
        ),
    ),
    Ask(
        "oskar",
        3.2,
        "Every press stalls at the forehead. What am I missing?",
        "More volume.",
        "strength",
        (
            Shot(
                "Overhead press",
                "overhead_press",
                "strict",
                62.5,
                67.5,
                3,
                "8.5",
                faults={"bar_drifts_forward": 0.9},
                profile="hevc_hlg",
            ),
        ),
        ("belt",),
        answer=Answer(
            "petra",
            22,
            "You are strong enough for this weight. The bar takes the long way round.",
            (
                Point(
                    "Bar goes round the face",
                    "The bar goes forward around the face and stays there, so it stalls in "
                    "front of you and not above you.",
                    3,
                    "ascent",
                    0,
                    0.45,
                ),
            ),
            broken=(3,),
            film_again="Side view, whole bar in the picture.",
        ),
    ),
]
