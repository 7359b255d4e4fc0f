"""The Wilson score interval of a share. Pure.

Wilson EB, J Am Stat Assoc 1927;22:209-212; compared by Newcombe RG, Stat Med 1998;17:857-872.
"""

from math import sqrt

Z95 = 1.959963984540054  # the normal's 97.5% point


def wilson(hits: int, of: int) -> tuple[float, float]:
    """The 95% interval of hits / of, without continuity correction, both ends within 0 and 1.

    None of `of` gives exactly 0 at the low end, all of them exactly 1 at the high end. Raises
    ValueError for a share of nothing.
    """
    if not 0 <= hits <= of or of == 0:
        raise ValueError(f"{hits} of {of} is no share.")
    share, z2 = hits / of, Z95**2
    middle = share + z2 / (2 * of)
    reach = Z95 * sqrt(share * (1 - share) / of + z2 / (4 * of**2))
    low, high = ((middle + sign * reach) / (1 + z2 / of) for sign in (-1, 1))
    return (0.0 if hits == 0 else low, 1.0 if hits == of else high)
