"""Practice by heart: what comes next, bringing the cube into it, and the exercises as conversations.

`session.Practice` is a lesson whose course is one exercise after the other. `choosing` says which: it computes that
anew each time from the raw results. `setups` has a way into every case from wherever the cube is (`top_routes` for the
last layer, `lower_routes` for the rest), so a slip is never in the way: practice goes on from where it has led.

Exercises: `doing` a sequence at a level of help, saying it aloud (`dialogue/reciting`), `telling` a case from a
description (`describing`) and its hold, or how a piece is placed and what comes next (`placing`). A doubt is asked
about and never counted; a success counts once the next check has confirmed it. The core owns no clock: the shell hands
one in, or the time is estimated (`lasting`).
"""
