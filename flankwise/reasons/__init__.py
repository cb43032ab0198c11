"""What refusals, warnings and advice say: the one table of sentences and what renders them."""

from flankwise.reasons.sentences import chance, message, sentence, word
from flankwise.reasons.table import COMMAND_LINE, WINDOW, Row, rows

__all__ = ["COMMAND_LINE", "WINDOW", "Row", "chance", "message", "rows", "sentence", "word"]
