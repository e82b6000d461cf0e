-- What a cloth's label bears: the JSON of the plan's care, nothing while unsaid.

ALTER TABLE cloth ADD COLUMN care TEXT CHECK (care IS NULL OR json_valid(care));
