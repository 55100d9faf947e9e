"""The card as a PDF of one A5 page."""

from collections.abc import Sequence

from caddie.range.card import Card

_WIDTH_MM, _HEIGHT_MM, _MARGIN_MM = 148.0, 210.0, 9.0


def card_pdf(card: Card) -> bytes:
    """The card set on one page; letters the built-in fonts lack are replaced."""
    from fpdf import FPDF

    page = FPDF(format=(_WIDTH_MM, _HEIGHT_MM))
    page.set_auto_page_break(False)
    page.set_margin(_MARGIN_MM)
    page.set_creation_date(card.made.astimezone())
    page.set_title(_plain(f"Carry card of {card.player}"))
    page.add_page()
    width = _WIDTH_MM - 2 * _MARGIN_MM

    def text(words: str, size: float, style: str = "", height_mm: float = 4.2) -> None:
        page.set_font("helvetica", style, size)
        page.multi_cell(width, height_mm, _plain(words), new_x="LMARGIN", new_y="NEXT", align="L")

    def heading(words: str) -> None:
        page.ln(1.2)
        text(words, 10.5, "B", 5.2)
        page.line(_MARGIN_MM, page.get_y(), _MARGIN_MM + width, page.get_y())
        page.ln(0.8)

    def table(rows: Sequence[Sequence[str]], first_mm: float, size: float, row_mm: float) -> None:
        other_mm = (width - first_mm) / max(len(rows[0]) - 1, 1)
        for number, row in enumerate(rows):
            for place, cell in enumerate(row):
                page.set_font("helvetica", "B" if number == 0 or place == 0 else "", size)
                page.cell(
                    first_mm if place == 0 else other_mm,
                    row_mm,
                    _plain(cell),
                    border=1,
                    align="L" if place == 0 else "C",
                )
            page.ln(row_mm)

    text(f"{card.player}: carries", 15, "B", 7)
    text(f"{card.made_text} {card.rule}", 8, height_mm=3.6)
    page.ln(1)
    # The page is one: many clubs get lower rows.
    row_mm = min(8.0, 62.0 / (len(card.rows) + 1))
    matrix = [["club", *card.swings]]
    matrix += [[f"{row.name}  {row.loft_deg:g}°", *(cell or "" for cell in row.cells)] for row in card.rows]
    table(matrix, 28, min(12.0, row_mm * 1.6), row_mm)
    text(card.legend, 8, height_mm=3.6)
    heading("Shots to trust")
    for line in card.trusted:
        text(f"- {line}", 9.5)
    heading("Wind and height")
    weather = [[f"change of carry, {card.unit}", *card.weather_heads]]
    weather += [[name, *cells] for name, cells in card.weather]
    table(weather, 52, 9, 5)
    heading("Sloping stances")
    for line in card.stances:
        text(f"- {line}", 9.5)
    return bytes(page.output())


def _plain(words: str) -> str:
    """Words in the Latin-1 letters that the built-in fonts have."""
    return words.encode("latin-1", "replace").decode("latin-1")
