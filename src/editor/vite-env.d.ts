/// <reference types="vite/client" />

/** Made by the build: the address of the script that takes the readings. */
declare module "virtual:reader" {
  export const READER_URL: string;
}

/** And of the script that searches for climb routes. */
declare module "virtual:climber" {
  export const CLIMBER_URL: string;
}
