//! The list as it stands: figures of the chosen projects, and what is ticked.

use crate::figures::{ClothToBuy, ShopList, ThingToBuy, Wanting, shop_list};
use crate::notebook::{Notebook, Picture, Settings, ShopProject, Tick};
use crate::plan::Cloth;
use crate::web::app::App;
use crate::web::error::WebError;

pub struct Lines {
    pub settings: Settings,
    /// All open projects; the list is of the chosen ones, in this order.
    pub projects: Vec<ShopProject>,
    pub list: ShopList,
    pub ticks: Vec<Tick>,
    /// By the id of the shelf's cloth.
    pictures: Vec<(String, Picture)>,
}

/// Where a line stands.
pub enum State<'a> {
    Open,
    Ticked,
    Bought,
    /// It was bought when it said something else.
    BoughtAs(&'a str),
}

pub async fn lines(app: &App) -> Result<Lines, WebError> {
    let known = app.known.clone();
    app.ask(move |n: &Notebook| {
        let settings = n.settings()?;
        let projects = n.shop_projects()?;
        let shelf = n.cloths()?;
        let chosen: Vec<&ShopProject> = projects.iter().filter(|p| p.chosen).collect();
        let figures: Vec<_> = chosen.iter().map(|p| known.figures(&p.plan)).collect();
        let wanting: Vec<Wanting> = chosen
            .iter()
            .zip(&figures)
            .map(|(p, figures)| Wanting {
                title: &p.title,
                plan: &p.plan,
                figures,
                cut: &p.cut,
            })
            .collect();
        let at_home: Vec<Cloth> = shelf.iter().map(|c| c.for_plan(c.id.to_string())).collect();
        let list = shop_list(&wanting, &at_home, settings.unit);
        let pictures = shelf.into_iter().filter_map(|c| Some((c.id.to_string(), c.picture()?)));
        Ok(Lines {
            list,
            ticks: n.ticks()?,
            pictures: pictures.collect(),
            settings,
            projects,
        })
    })
    .await
}

/// What a line said, to the unit: a tick of less is no tick of more.
pub fn wanted_cloth(cloth: &ClothToBuy) -> String {
    cloth.to_buy.exact()
}

pub fn wanted_thing(thing: &ThingToBuy) -> String {
    thing.quantity.chars().take(100).collect()
}

impl Lines {
    pub fn chosen(&self) -> Vec<&ShopProject> {
        self.projects.iter().filter(|p| p.chosen).collect()
    }

    pub fn state(&self, key: &str, wanted: &str) -> State<'_> {
        match self.ticks.iter().find(|t| t.key == key) {
            Some(t) if t.bought && t.wanted != wanted => State::BoughtAs(&t.wanted),
            Some(t) if t.bought && t.ticked => State::Bought,
            Some(t) if t.ticked && t.wanted == wanted => State::Ticked,
            _ => State::Open,
        }
    }

    pub fn is_ticked(&self, key: &str, wanted: &str) -> bool {
        matches!(self.state(key, wanted), State::Ticked)
    }

    pub fn is_bought(&self, key: &str, wanted: &str) -> bool {
        matches!(self.state(key, wanted), State::Bought)
    }

    pub fn picture(&self, key: &str) -> Option<&Picture> {
        let id = key.strip_prefix("shelf/")?;
        let mut pictures = self.pictures.iter();
        pictures.find(|(known, _)| known == id).map(|(_, picture)| picture)
    }

    /// The titles of those that want a line, as they are read aloud.
    pub fn titles(&self, of: impl Iterator<Item = usize>) -> String {
        let chosen = self.chosen();
        let mut titles: Vec<&str> = Vec::new();
        for title in of.filter_map(|at| chosen.get(at).map(|p| p.title.as_str())) {
            if !titles.contains(&title) {
                titles.push(title);
            }
        }
        titles.join(", ")
    }
}
