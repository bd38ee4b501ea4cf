"""The record looked at again: verified, followed, judged anew."""
