"""How the screens look: colours and their contrast, fonts and text size, the style sheet made from them."""
