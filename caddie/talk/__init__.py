"""The conversation: from what was said to an answer, and what is known from turn to turn.

Each file is one thing that may be said, and begins by telling which. They are of six sorts:

- **One sentence**: ``answer`` (what ``caddie ask`` calls), with ``as_wished``, ``carry_asked``, ``height_asked``.
- **A turn, in order**: ``conversation`` takes it through ``ahead``, ``notes``, ``read_back``, ``asked_whole`` and
  ``by_topic``, has it cut into parts by ``words``, puts each part right by what is known (``by_what_is_known``,
  ``as_said``, ``numbers_in_play``, ``clubs_by_number``, ``denied``, ``wind_placed``, ``ended``, ``earlier``), gives it
  to what answers its kind (``kinds``), makes one reply of all (``in_order``), and none twice over (``never_twice``).
- **What is known**: ``state``; what of it lasts (``lasts``, ``new_shot``, ``same_place``), is asked for (``question``,
  ``planning``, ``guessed``), is taken back (``take_back``, ``anew``) or put right (``written_wrong``,
  ``put_right_later``).
- **Answers about the shot in play**: ``asked``, ``why_so``, ``will_it``, ``doubts``, ``missed``, ``face``, ``ground``
  and others; other shots beside it: ``compare``, ``choices``, ``safe_shots``, ``either``, ``beside``,
  ``go_or_not``, ``two_ways_out``, ``refused_clubs``, ``relief_taken``.
- **What became of it**: ``played``, ``right_after``, ``several_balls``, ``of_one_shot``, ``was_it_hit``,
  ``given``, ``scored``, ``went_wrong``, ``hindsight``, ``today``.
- **Modes and manners**: ``competition``, ``stock``, ``routine``, ``about``, ``second_look``, ``refused``, ``lines``.
"""
