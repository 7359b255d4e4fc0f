"""A submission and what was answered, as one page shows it."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.db.models import Q

from athletes.models import User
from coachdesk.common.units import shown
from programming.models import Correction
from reviews.intake.clip_data import clip_data
from reviews.intake.models import Clip, ClipState, Submission
from reviews.replies.models import CorrectionReason, ReplyVersion
from reviews.replies.outcome_sentences import outcome_sentences
from reviews.replies.schemas.version import track_urls
from reviews.replies.selectors.programme_changes import ProgrammeChange, programme_changes
from reviews.replies.submission_rows import SubmissionRow
from reviews.replies.submission_status import clip_sentence


@dataclass(frozen=True)
class Reading:
    """`submission` comes from `selectors.reviews.read_by`;
    `version` is the one on the page, None before an answer."""

    submission: Submission
    version: ReplyVersion | None
    reader: User

    @property
    def line(self) -> SubmissionRow:
        return SubmissionRow(self.submission)

    @property
    def content(self) -> dict[str, Any]:
        """What was sent, as it was frozen; see `freezing`."""
        return self.version.content if self.version else {}

    @property
    def pain(self) -> bool:
        """The caution stands wherever pain was told of, whatever became of the report since."""
        return self.submission.pain is not None or bool(self.content.get("pain"))

    @property
    def film_by(self) -> date | None:
        return _day(self.content["film_again"]["by"])

    @property
    def points(self) -> list[dict[str, Any]]:
        return [self._placed(moment) for moment in self.content["points"]]

    @property
    def rest(self) -> list[dict[str, Any]]:
        return [self._placed(moment) for moment in self.content["rest"]]

    @property
    def outcomes(self) -> list[str]:
        return outcome_sentences(self.content)

    @property
    def changes(self) -> list[ProgrammeChange]:
        """What this review changed in the programme, as it stands today: loads follow the max, so
        those that were frozen with the reply may be other ones by now."""
        reasons = CorrectionReason.objects.filter(submission=self.submission)
        reasons = reasons.select_related("correction").order_by("correction__made_at")
        shown_here = Q(correction__in=[change["correction"] for change in self.content["changes"]])
        shown_here |= Q(correction__in=Correction.objects.standing()) | Q(notices__isnull=False)
        return programme_changes(
            reasons.filter(shown_here).distinct(),
            athlete=self.submission.athlete,
            unit=self.reader.unit,
        )

    @property
    def clips(self) -> list[dict[str, Any]]:
        """The frozen clips, each with its load as a number again."""
        return [self._heading(clip) for clip in self.content["clips"]]

    @property
    def lift(self) -> dict[str, Any]:
        """The clip that names the reply: the one with the first point, else the first."""
        first = self.content["points"][0]["clip"] if self.content["points"] else None
        named = next((clip for clip in self.clips if clip["id"] == first), None)
        return named or next(iter(self.clips), {"load": None})

    @property
    def has_calls(self) -> bool:
        return any(clip["calls"] for clip in self.content["clips"])

    @property
    def shape(self) -> str:
        """Of the first clip that plays: so that the page does not jump when it arrives."""
        clip = next(clip for clip in self._live if clip.is_playable and clip.made)
        assert clip.made is not None
        return "portrait" if clip.made["height"] > clip.made["width"] else "landscape"

    @property
    def rows(self) -> list[dict[str, Any]]:
        """Each clip as it stands now."""
        return [self._row(clip) for clip in self._live]

    def _row(self, clip: Clip) -> dict[str, Any]:
        facts = clip_data(clip, self.reader)
        percent = round(100 * facts["progress"])
        sentence = clip_sentence(clip)
        return {"clip": clip, "facts": facts, "sentence": sentence, "percent": percent}

    def _heading(self, clip: dict[str, Any]) -> dict[str, Any]:
        kg = clip["load_kg"]
        return {**clip, "load": Decimal(kg) if kg else None, "playable": self._plays(clip["id"])}

    def _placed(self, moment: dict[str, Any]) -> dict[str, Any]:
        """A moment with whether it can be shown, and its clip's place when there are several."""
        clips = self.content["clips"]
        position = next((c["position"] for c in clips if c["id"] == moment["clip"]), None)
        return {
            **moment,
            "position": position if len(clips) > 1 else None,
            "playable": self._plays(moment["clip"]),
        }

    def _plays(self, clip_id: str) -> bool:
        return any(str(clip.pk) == clip_id and clip.is_playable for clip in self._live)

    @property
    def _live(self) -> list[Clip]:
        return list(self.submission.clips.all())

    @property
    def unready(self) -> bool:
        """A clip is still on its way, so the page looks again by itself."""
        ready = {ClipState.PLAYABLE, ClipState.FAILED}
        return any(clip.state not in ready for clip in self._live)

    @property
    def player(self) -> dict[str, Any] | None:
        """What `<reply-player>` is given: clips that play, stops in playing order, rep calls."""
        live = {str(clip.pk): clip for clip in self._live if clip.is_playable}
        clips = [self._playing(clip, live[clip["id"]]) for clip in self.clips if clip["playable"]]
        stops = [
            {
                "number": point["number"],
                "note": point["note"],
                "clip": point["clip"],
                "frame": point["first_frame"],
                "title": point["fault"] or "What to look at",
                "cue": point["cue"],
            }
            for point in self.points
            if point["playable"]
        ]
        return {"clips": clips, "stops": stops} if clips else None

    def _playing(self, clip: dict[str, Any], live: Clip) -> dict[str, Any]:
        facts = clip_data(live, self.reader)
        names = ("id", "playable", "frames_url", "poster", "width", "height")
        marks = [call for call in clip["calls"] if call["first_frame"] is not None]
        return {
            **{name: facts[name] for name in names},
            "label": self._label(clip),
            "tracks": self._tracks(clip),
            "calls": [
                {name: call[name] for name in ("rep", "call", "first_frame", "last_frame")}
                for call in marks
            ],
        }

    def _tracks(self, clip: dict[str, Any]) -> dict[str, str]:
        assert self.version is not None  # only a sent reply has a player
        return track_urls(self.version, clip["id"])

    def _label(self, clip: dict[str, Any]) -> str:
        load = f"{shown(clip['load'], self.reader.unit)} {self.reader.unit}" if clip["load"] else ""
        view = f"{clip['view'].lower()} view" if clip["view"] else ""
        return ", ".join(filter(None, [f"Clip {clip['position']}", load, view]))


def _day(iso: str | None) -> date | None:
    return date.fromisoformat(iso) if iso else None
