"""Which faults can be drawn for each lift, and how strong they are in each rep.

Names describe what is seen. What a fault does to joints and bar stands in the lift's own module;
this one decides how much of it there is.
"""

from coachdesk.demo.drawing.spec import LIFTS, VIEWS, ClipSpec

FAULTS: dict[str, dict[str, str]] = {
    "squat": {
        "hips_rise_first": "out of the bottom the hips rise faster than the bar and the trunk tips",
        "knees_in": "the knees move inward on the way up",
        "depth_short": "the hip joint stays above the knee",
        "back_rounds": "the brace is loose and the back rounds in the lower half",
        "heels_lift": "the heels leave the floor near the bottom",
        "bar_drifts_forward": "the bar moves towards the toes",
        "weight_shift": "hips and bar move to the right on the way up",
        "soft_lockout": "the knees stay bent at the top",
        "bounce": "the last part of the descent is dropped",
    },
    "bench_press": {
        "uneven_press": "the left hand lags and the bar tilts",
        "elbows_ahead": "the elbows are nearer to the feet than the bar",
        "depth_short": "the bar turns before it touches the chest",
        "bar_drifts_forward": "the bar is pressed towards the feet",
        "hips_off_bench": "the hips leave the bench during the press",
        "soft_lockout": "the elbows stay bent at the top",
        "bounce": "the bar drops onto the chest and rebounds",
    },
    "deadlift": {
        "hips_low_start": "the hips start low, as in a squat, with the shins far forward",
        "hips_rise_first": "the hips rise before the bar does",
        "back_rounds": "the back rounds off the floor",
        "bar_drifts_forward": "the bar moves away from the legs",
        "knees_in": "the knees move inward off the floor",
        "soft_lockout": "hips and knees are not straight at the top",
        "uneven_pull": "the left side of the bar lags",
    },
    "overhead_press": {
        "leans_back": "the trunk leans back under the bar",
        "bar_drifts_forward": "the bar travels in front of the face and stays there",
        "elbows_behind": "the elbows are behind the bar at the start, so it leaves forward",
        "uneven_press": "the left hand lags and the bar tilts",
        "knees_dip": "the knees bend to start the press",
        "soft_lockout": "the elbows stay bent at the top",
    },
}


def check(spec: ClipSpec) -> None:
    """Raise ValueError with a plain sentence when a spec names what cannot be drawn."""
    if spec.lift not in LIFTS:
        raise ValueError(f"unknown lift {spec.lift!r}: one of {', '.join(LIFTS)}")
    if spec.kind not in LIFTS[spec.lift]:
        raise ValueError(f"{spec.lift} has no variant {spec.kind!r}: {', '.join(LIFTS[spec.lift])}")
    if spec.view not in VIEWS:
        raise ValueError(f"unknown view {spec.view!r}: one of {', '.join(VIEWS)}")
    if unknown := sorted(set(spec.faults) - set(FAULTS[spec.lift])):
        raise ValueError(f"{spec.lift} has no fault {unknown}: {', '.join(FAULTS[spec.lift])}")
    if spec.reps < 1 or min(spec.size) < 64 or any(side % 2 for side in spec.size):
        raise ValueError("a clip needs a rep and an even size of at least 64 px")


def strengths(spec: ClipSpec) -> dict[str, list[float]]:
    """Strength 0..1 of each fault in each rep.

    Nothing below 60% of the lifter's best, everything at 95%; the first of several reps shows 45%
    of the last. So the same lifter's lighter clip looks right and the heavy one does not.
    """
    by_load = min(1.0, max(0.0, (spec.effort - 0.60) / 0.35))
    last = max(1, spec.reps - 1)
    growth = [0.45 + 0.55 * i / last if spec.reps > 1 else 1.0 for i in range(spec.reps)]
    return {
        name: [round(top * by_load * g, 4) for g in growth] for name, top in spec.faults.items()
    }
