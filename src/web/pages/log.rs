use actix_web::web::ServiceConfig;

pub fn routes(_config: &mut ServiceConfig) {}
