//! What a form does with what stands, and two hands on it.

/// What a form does with what stands.
pub enum Class {
    /// Adds a line of its own: two hands give two lines.
    Adds,
    /// Sets a switch to what the form says: the second hand finds it so.
    Sets,
    /// Changes a record that stands: names the version it started from.
    Edits(&'static [Edit]),
    /// Deletes or undoes one thing that stands: names the version it started from.
    Undoes,
    /// Sends no record: a round's pots, a file, a question.
    Sends,
}

/// Two hands that start from one page: where it is, what each types, and the words each is known by.
pub struct Edit {
    /// The page.
    pub page: &'static str,
    /// What stands before the number in the form's address, where it has one.
    pub number: &'static str,
    /// The address of the form; `{}` for the number.
    pub to: &'static str,
    /// Fields that both hands send.
    pub both: &'static [(&'static str, &'static str)],
    /// What the first hand types.
    pub first: &'static [(&'static str, &'static str)],
    /// What the second types.
    pub second: &'static [(&'static str, &'static str)],
    /// The words of what then stands, and of what the second typed.
    pub words: [&'static str; 2],
    /// Whether the page still has the form, so that it can be saved from there.
    pub again: bool,
    /// A form that can carry a photo.
    pub parts: bool,
}

pub const EDIT: Edit = Edit {
    page: "",
    number: "",
    to: "",
    both: &[],
    first: &[],
    second: &[],
    words: ["", ""],
    again: true,
    parts: false,
};

pub const SITE: [(&str, &str); 5] = [
    ("latitude", "47.3"),
    ("longitude", "9.2"),
    ("elevation", "560 m"),
    ("zone", "Europe/Zurich"),
    ("units", "metric"),
];

pub const POT: [(&str, &str); 8] = [
    ("name", "Dark rectangle 44 cm"),
    ("shape", "rectangle"),
    ("length", "44"),
    ("width", "32"),
    ("height", "11"),
    ("finish", "unglazed"),
    ("fired", "high"),
    ("count", "1"),
];

pub const TREE: [(&str, &str); 6] = [
    ("name", "Olive"),
    ("taxon", "Olea europaea"),
    ("confidence", "likely"),
    ("candidates", "zelkova-serrata; ulmus-minor"),
    ("worth", "show"),
    ("since", "2019-06-16"),
];
