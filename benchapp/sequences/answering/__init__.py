"""What an answer is worth: meter, band, value, uncertainty and judgement, tried without recording."""
