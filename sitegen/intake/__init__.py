"""From what was aired to what must be written: captions and a rundown in, facts, drafts and promises out."""
