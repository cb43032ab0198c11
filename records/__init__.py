"""The parts register: what was measured, kept beside its pictures for as long as the instrument lasts."""
