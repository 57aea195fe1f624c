"""Headings in German, French, Spanish and Japanese: general words for what docs/parts.md lists, from memory.

Only words that a dictionary has, no heading of any program or sheet. A word of these languages that a
workshop uses for two things is in `FOREIGN_UNCLEAR`: it is asked about, not guessed.
"""

from __future__ import annotations

LANGUAGES = ("German", "French", "Spanish", "Japanese")

FOREIGN_WORDS: dict[str, tuple[str, str, str, str]] = {
    "mass": (
        "Gewicht, Masse, Gesamtgewicht, Gesamtmasse, Schlägergewicht, Schlägermasse",
        "poids, masse, poids total, masse totale, poids du club, masse du club",
        "peso, masa, peso total, masa total, peso del palo",
        "重量, 総重量, 質量, クラブ重量, 重さ",
    ),
    "balance": (
        "Schwerpunkt, Balancepunkt, Schwerpunktabstand, Schlägerschwerpunkt",
        "point d'équilibre, centre de gravité, équilibre",
        "punto de equilibrio, centro de gravedad, equilibrio",
        "重心, 重心位置, バランスポイント, 重心距離",
    ),
    "period": (
        "Schwingungsdauer, Schwingzeit, Periode, Pendelzeit",
        "période, temps d'oscillation, durée d'oscillation",
        "período, tiempo de oscilación",
        "周期, 振動周期, 振り子周期",
    ),
    "club_length": (
        "Länge, Schlägerlänge, Gesamtlänge, fertige Länge",
        "longueur, longueur du club, longueur totale",
        "longitud, longitud del palo, longitud total, largo",
        "長さ, クラブ長, クラブ長さ, 全長",
    ),
    "head_mass": (
        "Kopfgewicht, Kopfmasse, Schlägerkopfgewicht",
        "poids de la tête, masse de la tête, poids tête",
        "peso de la cabeza, masa de la cabeza, peso cabeza",
        "ヘッド重量, ヘッド質量",
    ),
    "shaft_mass": (
        "Schaftgewicht, Schaftmasse",
        "poids du manche, masse du manche, poids du shaft",
        "peso de la varilla, masa de la varilla, peso varilla",
        "シャフト重量, シャフト質量",
    ),
    "shaft_length": (
        "Schaftlänge",
        "longueur du manche, longueur du shaft",
        "longitud de la varilla, largo de la varilla",
        "シャフト長, シャフト長さ",
    ),
    "shaft_balance": (
        "Schaftschwerpunkt",
        "équilibre du manche, centre de gravité du manche",
        "equilibrio de la varilla",
        "シャフト重心",
    ),
    "grip_mass": (
        "Griffgewicht, Griffmasse",
        "poids du grip, masse du grip, poids de la poignée",
        "peso del grip, peso de la empuñadura, masa del grip",
        "グリップ重量, グリップ質量",
    ),
    "ferrule_mass": (
        "Ferrulengewicht, Ringgewicht", "poids de la ferrule, poids de la virole", "peso de la férula",
        "フェルール重量, ソケット重量",
    ),
    "tip_trim": (
        "Spitzenkürzung, Kürzung an der Spitze", "coupe en pointe", "corte de punta", "チップカット, 先端カット",
    ),
    "butt_trim": (
        "Kürzung am Griffende", "coupe côté grip", "corte del extremo del grip", "バットカット",
    ),
    "inertia": (
        "Trägheitsmoment, Massenträgheitsmoment", "moment d'inertie", "momento de inercia", "慣性モーメント",
    ),
    "points": (
        "Schwunggewicht", "swingweight, poids de swing", "swingweight, peso de swing",
        "スイングウェイト, スウィングウェイト",
    ),
    "target": (
        "Ziel, Sollwert, Zielwert, Ziel Schwunggewicht", "cible, valeur cible, objectif", "objetivo, valor objetivo",
        "目標, 目標値",
    ),
    "tolerance": ("Toleranz", "tolérance", "tolerancia", "許容差, 公差"),
    "increment": ("Schritt, Zunahme", "incrément, pas", "incremento", "増分"),
    "loft": ("Loft, Loftwinkel", "loft", "loft", "ロフト, ロフト角"),
    "lie": ("Lie, Liewinkel", "lie", "lie", "ライ, ライ角"),
    "frequency": ("Frequenz, Schaftfrequenz", "fréquence", "frecuencia", "振動数"),
}  # fmt: skip
"""Quantities by their keys in `vocabulary.VOCABULARY`, with the words of each language in `LANGUAGES`, from memory."""

FOREIGN_BARE: dict[str, tuple[str, str, str, str]] = {
    "head_mass": ("Kopf, Schlägerkopf", "tête", "cabeza", "ヘッド"),
    "shaft_mass": ("Schaft", "manche, shaft", "varilla", "シャフト"),
    "shaft_length": ("Schaft", "manche, shaft", "varilla", "シャフト"),
    "grip_mass": ("Griff", "poignée", "empuñadura", "グリップ"),
    "ferrule_mass": ("Ferrule", "virole", "férula", "フェルール"),
    "epoxy_mass": ("Kleber, Klebstoff", "colle", "pegamento, cola", "接着剤"),
    "tape_mass": ("Klebeband, Griffband", "ruban", "cinta", "テープ"),
    "lead_tape_mass": ("Bleiband", "ruban de plomb", "cinta de plomo", "鉛テープ, 鉛"),
    "tip_weight_mass": ("Spitzengewicht", "poids de pointe", "peso de punta", "チップウェイト"),
    "butt_weight_mass": ("Gegengewicht", "contrepoids", "contrapeso", "カウンターウェイト, カウンターバランス"),
    "mass": ("Gesamt", "", "", "合計"),
    "balance": ("", "équilibrage", "", "バランス"),
}  # fmt: skip
"""What calls a quantity so only with a unit of its dimension, as `Headed.bare`."""

FOREIGN_UNCLEAR: dict[str, tuple[str, ...]] = {
    "バランス": ("points", "balance"),
    "équilibrage": ("points", "balance"),
    "Gesamt": ("mass", "club_length"),
    "合計": ("mass",),
}
"""Words that mean one quantity or another, by the keys of those."""

FOREIGN_UNITS: dict[str, str] = {
    "gramm": "g", "gramo": "g", "gramos": "g", "グラム": "g",
    "unze": "oz", "unzen": "oz", "once": "oz", "onces": "oz", "onza": "oz", "onzas": "oz", "オンス": "oz",
    "zoll": "in", "pouce": "in", "pouces": "in", "pulgada": "in", "pulgadas": "in", "インチ": "in",
    "zentimeter": "cm", "centimètre": "cm", "centimètres": "cm", "centímetro": "cm", "centímetros": "cm",
    "センチ": "cm", "センチメートル": "cm",
    "millimètre": "mm", "millimètres": "mm", "milímetro": "mm", "milímetros": "mm", "ミリ": "mm", "ミリメートル": "mm",
    "sekunde": "s", "sekunden": "s", "sek": "s", "seconde": "s", "secondes": "s", "segundo": "s", "segundos": "s",
    "秒": "s", "grad": "deg", "degré": "deg", "degrés": "deg", "grado": "deg", "grados": "deg", "度": "deg",
    "punkte": "points", "puntos": "points", "ポイント": "points",
}  # fmt: skip
"""Units as these languages write them, with their symbols."""


def words_of(table: dict[str, tuple[str, str, str, str]]) -> dict[str, list[str]]:
    """Every word of a table by the key that it means, all languages together.

    Args:
        table: `FOREIGN_WORDS` or `FOREIGN_BARE` [-].
    """
    return {key: [w.strip() for text in lists for w in text.split(",") if w.strip()] for key, lists in table.items()}
