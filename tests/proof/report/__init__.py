"""The validation report: published figures beside ours, made from the data that the tests hold."""
