"""How the controls look, as Qt's style sheet made from the tokens and the text size; Qt-free text.

Sizes are in points times the text size, so everything grows with it. Labels say what they are with the property
`kind`.
"""

from benchapp.desktop.theme.tokens import Tokens


def style_sheet(tokens: Tokens, points: float, *, arrow: str, tick: str, cramped: bool = False) -> str:
    """The style sheet of the whole application for running text of `points`.

    `arrow` is the picture that says that a list opens here, `tick` the one of a checked box; where text is large and
    room short, instructions grow less.
    """
    say = 1.2 if cramped else 1.45
    return "\n".join(
        (
            _labels(tokens, points, say),
            _controls(tokens, points, tick),
            _boxes(tokens, points, arrow),
            _tables(tokens, points),
        )
    )


def _labels(tokens: Tokens, points: float, say: float) -> str:
    return f"""
QLabel[kind="unit"] {{ font-size: {points * 2.1:.1f}pt; font-weight: bold; }}
QLabel[kind="title"] {{ font-size: {points * 1.5:.1f}pt; font-weight: bold; }}
QLabel[kind="say"] {{ font-size: {points * say:.1f}pt; }}
QLabel[kind="head"] {{ font-weight: bold; }}
QLabel[kind="quiet"] {{ color: {tokens.quiet}; }}
QLabel[kind="complaint"] {{ color: {tokens.ink}; background: {tokens.bad_wash}; font-weight: bold;
  border-left: 6px solid {tokens.bad}; padding: 4px 8px; }}
QLabel[kind="off"] {{ background: {tokens.off}; color: {tokens.on_off}; font-size: {points * min(say, 1.3):.1f}pt;
  font-weight: bold; padding: {4 if say < 1.3 else points * 0.65:.0f}px; }}
QLabel[kind="key"] {{ border: 1px solid {tokens.line}; border-radius: 3px; padding: 0px 4px; font-weight: bold;
  background: {tokens.sheet}; }}
QToolTip {{ border: 1px solid {tokens.line}; padding: 3px; }}
"""


def _controls(tokens: Tokens, points: float, tick: str) -> str:
    return f"""
QPushButton {{ background: {tokens.raised}; border: 2px solid {tokens.line}; border-radius: 4px;
  padding: {points * 0.35:.0f}px {points * 0.9:.0f}px; min-height: {max(24, points * 2):.0f}px; text-align: left; }}
QPushButton:hover {{ border-color: {tokens.ink}; }}
QPushButton:focus {{ border: 3px solid {tokens.focus}; padding: {points * 0.35 - 1:.0f}px {points * 0.9 - 1:.0f}px; }}
QPushButton:checked {{ background: {tokens.chosen}; color: {tokens.on_chosen}; }}
QPushButton:disabled {{ color: {tokens.quiet}; border-style: dashed; }}
QPushButton[kind="off"] {{ background: {tokens.off}; color: {tokens.on_off}; border-color: {tokens.off};
  font-weight: bold; font-size: {points * 1.15:.1f}pt; }}
QPushButton[kind="off"]:focus {{ border-color: {tokens.ink}; }}
QPushButton[kind="main"] {{ font-weight: bold; border-color: {tokens.ink}; }}
QPushButton[kind="main"]:focus {{ border-color: {tokens.focus}; }}
QLineEdit, QPlainTextEdit {{ background: {tokens.sheet}; border: 2px solid {tokens.line};
  border-radius: 4px; padding: {points * 0.3:.0f}px; }}
QLineEdit:focus, QPlainTextEdit:focus {{ border: 3px solid {tokens.focus};
  padding: {points * 0.3 - 1:.0f}px; }}
QLineEdit[kind="reading"] {{ font-size: {points * 2.2:.1f}pt; font-weight: bold; }}
QFrame[kind="panel"] {{ background: {tokens.sheet}; border: 1px solid {tokens.rule}; border-radius: 6px; }}
QCheckBox {{ border: 2px solid transparent; border-radius: 4px; padding: 3px; spacing: {points * 0.6:.0f}px; }}
QCheckBox::indicator {{ width: {points * 1.4:.0f}px; height: {points * 1.4:.0f}px; border: 2px solid {tokens.line};
  border-radius: 3px; background: {tokens.sheet}; }}
QCheckBox::indicator:checked {{ image: url("{tick}"); border-color: {tokens.ink}; }}
QCheckBox:focus {{ border-color: {tokens.focus}; }}
QScrollArea {{ border: none; background: transparent; }}
QScrollArea > QWidget > QWidget {{ background: transparent; }}
"""


def _boxes(tokens: Tokens, points: float, arrow: str) -> str:
    return f"""
QComboBox {{ background: {tokens.sheet}; border: 2px solid {tokens.line}; border-radius: 4px;
  padding: {points * 0.2:.0f}px {points * 0.5:.0f}px; min-height: {points * 1.8:.0f}px; }}
QComboBox:focus {{ border: 3px solid {tokens.focus}; }}
QComboBox::drop-down {{ border: none; width: {points * 2:.0f}px; }}
QComboBox::down-arrow {{ image: url("{arrow}"); width: {points:.0f}px; height: {points:.0f}px; }}
QComboBox QLineEdit, QComboBox QLineEdit:focus {{ border: none; padding: 0px; }}
QComboBox QAbstractItemView {{ background: {tokens.sheet}; border: 2px solid {tokens.line};
  selection-background-color: {tokens.chosen}; selection-color: {tokens.on_chosen}; }}
"""


def _tables(tokens: Tokens, points: float) -> str:
    return f"""
QTableView {{ background: {tokens.sheet}; gridline-color: {tokens.rule}; border: 2px solid {tokens.line};
  selection-background-color: {tokens.chosen}; selection-color: {tokens.on_chosen}; }}
QTableView:focus {{ border: 3px solid {tokens.focus}; }}
QHeaderView::section {{ background: {tokens.raised}; color: {tokens.ink}; border: none;
  border-right: 1px solid {tokens.rule}; border-bottom: 2px solid {tokens.line}; padding: {points * 0.4:.0f}px; }}
QListWidget {{ background: {tokens.sheet}; border: 2px solid {tokens.line}; border-radius: 4px; }}
QListWidget:focus {{ border: 3px solid {tokens.focus}; }}
QListWidget::item {{ padding: {points * 0.4:.0f}px; }}
QListWidget::item:selected {{ background: {tokens.chosen}; color: {tokens.on_chosen}; }}
QProgressBar {{ border: 1px solid {tokens.line}; background: {tokens.sheet}; text-align: center; }}
QProgressBar::chunk {{ background: {tokens.good_wash}; }}
"""
